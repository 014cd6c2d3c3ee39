package main

import (
	"fmt"
	"io"
	"os"
	"path/filepath"
	"strings"

	"wintertruss/engine"
	"wintertruss/engine/store"
	"wintertruss/engine/syntax"
	"wintertruss/sheets"
)

// intake shows what the rows of a CSV file come to as records of a book and, when
// told to write, takes them: all of them or none.
func (c *command) intake(words []string) int {
	if len(words) != 3 {
		return c.wrong(&engine.OptionError{Message: "import takes a book, the name of its records and a CSV file", Hint: "wintertruss import BOOK weather days.csv"})
	}
	f, err := os.Open(words[2])
	if err != nil {
		return c.wrong(fmt.Errorf("the file cannot be read: %w", err))
	}
	defer f.Close()
	file, err := io.ReadAll(io.LimitReader(f, syntax.MostBytes+1))
	if err != nil {
		return c.wrong(fmt.Errorf("the file cannot be read: %w", err))
	}
	if len(file) > syntax.MostBytes {
		return c.wrong(&engine.OptionError{Message: "the file is larger than a book can be", Hint: "take it a year at a time"})
	}
	if !c.write {
		d, err := c.open(words[0])
		if err != nil {
			return c.wrong(err)
		}
		in, err := d.Intake(words[1], file, c.rows)
		if err != nil {
			return c.wrong(err)
		}
		c.printIntake(in)
		if in.Taken > 0 {
			fmt.Fprintf(c.out, "Nothing is written yet; with --write the book takes %s.\n", counted(in.Taken, "row"))
		}
		return intakeCode(in)
	}
	if _, err := os.Stat(words[0]); err != nil {
		if name, _, starter := sheets.Book(words[0]); starter {
			return c.wrong(&engine.OptionError{Message: words[0] + " is a book of the program and is not written to", Hint: "open it once, and import into the copy that open names; or save it as " + name + " yourself"})
		}
	}
	path, err := c.file(words[0])
	if err != nil {
		return c.wrong(err)
	}
	st, err := store.OpenFile(path)
	if err != nil {
		return c.wrong(fmt.Errorf("the book cannot be written: %w", err))
	}
	defer st.Close()
	live, err := engine.OpenLive(filepath.Base(path), st, c.opts)
	if err != nil {
		return c.wrong(err)
	}
	d, _ := live.Now()
	in, err := d.Intake(words[1], file, c.rows)
	if err != nil {
		return c.wrong(err)
	}
	c.printIntake(in)
	if in.Taken > 0 {
		if _, fault := live.Apply(in.Edit, "", "import"); fault != nil {
			c.report(fault)
			return exitError
		}
		fmt.Fprintf(c.out, "%s written to %s.\n", counted(in.Taken, "row"), path)
	} else {
		fmt.Fprintln(c.out, "Nothing was written.")
	}
	return intakeCode(in)
}

func intakeCode(in *engine.Intake) int {
	if len(in.Refused) > 0 {
		return exitError
	}
	return exitDone
}

// printIntake says where columns come from, and which rows are not taken and why.
func (c *command) printIntake(in *engine.Intake) {
	fmt.Fprintf(c.out, "%s into records %s; cells apart by %s\n", counted(in.Rows, "row"), in.Records, in.Separator)
	for _, col := range in.Columns {
		from := col.From
		switch {
		case col.Always != "":
			from = col.Always + ", in every row"
		case from == "":
			from = "nothing: it stays blank"
		case col.Unit != "" && !strings.Contains(from, col.Unit):
			from += ", in " + col.Unit
		}
		fmt.Fprintf(c.out, "  %-16s from %s\n", col.Name, from)
	}
	if len(in.Unused) > 0 {
		fmt.Fprintf(c.out, "  not taken: %s\n", strings.Join(in.Unused, ", "))
	}
	for _, r := range in.Refused {
		fmt.Fprintf(c.err, "line %d, %s: %s\n", r.Line, r.Column, r.Message)
		if r.Hint != "" {
			fmt.Fprintf(c.err, "hint: %s\n", r.Hint)
		}
	}
	if in.More {
		fmt.Fprintln(c.err, "and there may be more; mend these first")
	}
	if len(in.Refused) > 0 {
		fmt.Fprintf(c.out, "%s refused\n", counted(len(in.Refused), "row"))
		if in.Taken == 0 {
			fmt.Fprintln(c.out, "None of the rows is taken, so that nothing is half there; --skip-refused takes the others.")
		}
	}
	if in.Same > 0 {
		fmt.Fprintf(c.out, "%s in the book already, left out\n", counted(in.Same, "row"))
	}
	if in.Beside > 0 {
		fmt.Fprintf(c.out, "%s of a day and name that the book has with other figures: both will count\n", counted(in.Beside, "row"))
	}
}
