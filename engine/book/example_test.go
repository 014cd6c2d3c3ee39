package book_test

import (
	"fmt"

	"wintertruss/engine/book"
	"wintertruss/engine/syntax"
	"wintertruss/engine/week"
)

func ExampleAssemble() {
	text := "```settings\nseason : 2026-W33 .. 2027-W32\ncurrency : USD\n```\n" +
		"```list house\n| floor ft2 | night over week degF\nlong | 2880 | 62; 64 from 2027-W09\n```\n" +
		"```lines\nset_share : 80 % (68..88) // Flowers that become fruit\nbeds over huose : 3\n```\n"
	today, _ := week.ParseDay("2027-03-10")
	b := book.Assemble(syntax.Read("quail_run.md", []byte(text)), today)
	for _, p := range b.Column("house", "night").Input.Pieces {
		fmt.Println(b.List("house").Members[p.Member].Name, p.Value.Number, p.Value.Unit)
	}
	share := b.Line("set_share").Input.Pieces[0].Value
	fmt.Println(share.Exact, share.Unit, share.Spread.Low, share.Spread.High)
	for _, e := range b.Errors {
		fmt.Printf("%s:%d:%d: %v\nhint: %s\n", b.Doc.File, e.Line, e.Col, e, e.Hint)
	}
	// Output:
	// long 62 degF
	// long 64 degF
	// 80 % 68 88
	// quail_run.md:11:11: beds: there is no list and no other axis called huose
	// hint: did you mean house?
}
