package main

import (
	"bytes"
	"fmt"
	"os"
	"strings"
	"testing"

	"github.com/rogpeppe/go-internal/testscript"
)

func TestMain(m *testing.M) {
	testscript.Main(m, map[string]func(){"wintertruss": main})
}

// TestScripts runs the script files: a book, commands, and what they must say.
// A grower can read them.
func TestScripts(t *testing.T) {
	testscript.Run(t, testscript.Params{
		Dir: "../../testdata/scripts",
		Cmds: map[string]func(*testscript.TestScript, bool, []string){
			"bigbook": bigBook,
		},
	})
}

// bigBook FILE KIND N writes books too large or too strange to stand in a script.
func bigBook(ts *testscript.TestScript, neg bool, args []string) {
	if neg || len(args) != 2 {
		ts.Fatalf("bigbook FILE KIND")
	}
	head := "```settings\nseason : 2026-W33 .. 2027-W32\ncurrency : USD\n```\n```lines\n"
	var b bytes.Buffer
	switch args[1] {
	case "40MB":
		b.WriteString("# Long\n")
		for b.Len() < 40<<20 {
			b.WriteString("A line of prose that goes on and on.\n")
		}
	case "manylines":
		b.WriteString("# Long\n")
		for range 250_001 {
			b.WriteString("x\n")
		}
	case "binary":
		b.WriteString("# Book\n\x00\x01\x02\xff\xfe\x80binary")
	case "brackets":
		b.WriteString(head + "deep = " + strings.Repeat("(", 100_000) + "1" + strings.Repeat(")", 100_000) + "\n```\n")
	case "nested":
		b.WriteString(head + "deep = " + strings.Repeat("(", 61) + "1" + strings.Repeat(")", 61) + "\n```\n")
	case "minus":
		b.WriteString(head + "deep = " + strings.Repeat("-", 1000) + "1\n```\n")
	case "nots":
		b.WriteString(head + "deep = " + strings.Repeat("not ", 400) + "(1 > 0)\n```\n")
	case "chain":
		b.WriteString(head + "long = 1" + strings.Repeat(" + 1", 480) + "\n```\n")
	case "choices":
		b.WriteString(head + "deep = " + strings.Repeat("1 > 0 ? 1 : ", 100) + "1\n```\n")
	case "longname":
		b.WriteString(head + strings.Repeat("a", 100_000) + " : 1\n```\n")
	case "loopchain":
		b.WriteString(head)
		for i := range 3000 {
			fmt.Fprintf(&b, "x%d = x%d + 1\n", i, (i+1)%3000)
		}
		b.WriteString("```\n")
	case "deepchain":
		b.WriteString(head + "x0 : 1\n")
		for i := range 20_000 {
			fmt.Fprintf(&b, "x%d = x%d + 1\n", i+1, i)
		}
		b.WriteString("```\n")
	default:
		ts.Fatalf("bigbook: no kind %s", args[1])
	}
	ts.Check(os.WriteFile(ts.MkAbs(args[0]), b.Bytes(), 0o666))
}
