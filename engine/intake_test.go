package engine_test

import (
	"strings"
	"testing"

	"wintertruss/engine"
	"wintertruss/engine/syntax"
	"wintertruss/engine/week"
)

const intakeBook = "# Small\n```settings\nseason : 2027-W01 .. 2027-W12\ncurrency : USD\n```\n" +
	"```list offer\n      | label\nstall | The stall\nstand | The stand\n```\n" +
	"```records sales\ndate | offer | weight lb | money USD\n2027-01-08 | stall | 2 lb | 4.50\n```\nThe end.\n"

func openIntake(t testing.TB, text string) *engine.Desk {
	t.Helper()
	today, err := week.ParseDay("2027-02-17")
	if err != nil {
		t.Fatal(err)
	}
	d, err := engine.Open("small.md", []byte(text), engine.Options{Today: today})
	if err != nil {
		t.Fatal(err)
	}
	return d
}

// FuzzIntake: whatever a file holds, the book judges it; what is taken reads without
// fault, is as many rows as were said, leaves every other byte alone and is known as
// taken when the file comes again.
func FuzzIntake(f *testing.F) {
	for _, s := range []string{
		"date,offer,weight,money\n2027-01-09,The stall,12.5,50\n",
		"date;offer;weight [kg]\n2027-01-09;stand;1\n2027-01-09;stand;1\n",
		"Date\tOffer\n2027-01-08T10:00\tstall\n\t\n",
		"date,money\n2027-01-08,'=1+1\n2027-01-08,\"a\"\"b\"\n2027-01-10,a|b\n2027-01-10,// x\n",
		"\ufeffdate,offer,weight (furlong)\n8/1/2027,stall,1\n2027-13-01,stall,1e999\n",
		"date\n2027-01-08\n```\n# x\n",
	} {
		f.Add(s)
	}
	f.Fuzz(func(t *testing.T, file string) {
		d := openIntake(t, intakeBook)
		in, err := d.Intake("sales", []byte(file), engine.IntakeOptions{SkipRefused: true})
		if err != nil {
			return
		}
		if in.Taken+in.Same+len(in.Refused) != in.Rows && !in.More {
			t.Fatalf("%d rows: %d taken, %d known, %d refused", in.Rows, in.Taken, in.Same, len(in.Refused))
		}
		if in.Taken == 0 {
			if in.Edit.Kind != "" {
				t.Fatalf("nothing is taken by %+v", in.Edit)
			}
			return
		}
		doc, _, fault := in.Edit.Apply(syntax.Read("small.md", []byte(intakeBook)))
		if fault != nil {
			t.Fatal(fault)
		}
		text := string(doc.Text())
		before, after, _ := strings.Cut(intakeBook, "```\nThe end.\n")
		if !strings.HasPrefix(text, before) || !strings.HasSuffix(text, "```\nThe end.\n"+after) || text[len(before):len(text)-len("```\nThe end.\n"+after)] != string(in.Edit.Text) {
			t.Fatalf("the book reads\n%s", text)
		}
		d = openIntake(t, text)
		if e := d.Errors(); len(e) > 0 {
			t.Fatalf("%v in\n%s", e[0], text)
		}
		for _, r := range d.Book.Records {
			if len(r.Day) != 1+in.Taken {
				t.Fatalf("%d records after %d were taken", len(r.Day), in.Taken)
			}
		}
		again, err := d.Intake("sales", []byte(file), engine.IntakeOptions{SkipRefused: true})
		if err != nil || again.Taken != 0 || again.Same != in.Taken+in.Same {
			t.Fatalf("again: %+v, %v", again, err)
		}
	})
}

// TestIntakeKnowsRowsOnce: two sales alike in the file and one in the book are one
// more; a day and name with other figures is said.
func TestIntakeKnowsRowsOnce(t *testing.T) {
	d := openIntake(t, intakeBook)
	in, err := d.Intake("sales", []byte("date,offer,weight,money\n2027-01-08,stall,2,4.5\n2027-01-08,stall,2,4.5\n2027-01-08,stall,3,4.5\n"), engine.IntakeOptions{})
	if err != nil || in.Same != 1 || in.Taken != 2 || in.Beside != 2 {
		t.Errorf("%+v, %v", in, err)
	}
}

// TestIntakeAtTheEnd: rows go below the last one of a book that ends there, without a
// line ending of its own.
func TestIntakeAtTheEnd(t *testing.T) {
	text := strings.Replace(intakeBook, "\n```\nThe end.\n", "", 1)
	in, err := openIntake(t, text).Intake("sales", []byte("date,offer,weight\n2027-01-09,stall,1\n2027-01-10,stand,2\n"), engine.IntakeOptions{})
	if err != nil || in.Taken != 2 {
		t.Fatalf("%+v, %v", in, err)
	}
	doc, _, fault := in.Edit.Apply(syntax.Read("small.md", []byte(text)))
	if fault != nil {
		t.Fatal(fault)
	}
	if want := text + "\n2027-01-09 | stall | 1         |\n2027-01-10 | stand | 2         |"; strings.TrimRight(string(doc.Text()), "\n") != want {
		t.Errorf("the book reads\n%s", doc.Text())
	}
}
