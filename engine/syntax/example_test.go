package syntax_test

import (
	"fmt"

	"wintertruss/engine/syntax"
)

func ExampleRead() {
	book := syntax.Read("book.md", []byte("# Plan\n```lines\n"+
		"set_share over planting : 80 % (68..88)  // Flowers that become fruit [own counts]\n"+
		"harvest = flowers * set_share * + * fruit_weight -> lb\n```\n"))
	for _, part := range book.Parts {
		if line, ok := part.Item.(*syntax.Line); ok {
			fmt.Printf("line %d: %s, %q, in error %t\n", part.Line, line.Name.Text, line.Label, line.Values == nil && line.Formula == nil)
		}
	}
	for _, e := range book.Errors {
		fmt.Printf("%s:%d:%d: %s\nhint: %s\n", book.File, e.Line, e.Col, e, e.Hint)
	}
	// Output:
	// line 3: set_share, "Flowers that become fruit", in error false
	// line 4: harvest, "", in error true
	// book.md:4:35: harvest: something is missing before *
	// hint: a name, a number, or brackets belong there
}
