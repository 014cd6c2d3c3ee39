// Command wintertruss answers whether a winter crop pays, what to charge, and
// whether it can carry a loan, from a book of plain text.
//
// All wiring stands in this file: verbs, options, streams and exit codes. What
// the verbs print is in print.go; everything else is in package engine.
package main

import (
	"errors"
	"flag"
	"fmt"
	"io"
	"maps"
	"os"
	"slices"
	"strings"
	"time"

	"wintertruss/engine"
	"wintertruss/engine/syntax"
	"wintertruss/engine/week"
	"wintertruss/sheets"
)

// Exit codes.
const (
	exitDone  = 0 // done; cautions and faults of single cells included
	exitError = 1 // the book, or a line that was asked for, is in error
	exitWrong = 2 // a wrong command, or a file that cannot be read
)

func main() { os.Exit(run(os.Args[1:], os.Stdout, os.Stderr)) }

// command is what was asked for.
type command struct {
	verb string
	book string // the file's name, for messages
	port int
	from string
	json bool
	// of import
	rows  engine.IntakeOptions
	write bool
	// of solve
	make, by string
	opts     engine.Options
	out      io.Writer
	err      io.Writer
}

// usage is shown for a wrong command.
const usage = `wintertruss [VERB] [BOOK] ...     without BOOK: the starter book

  open [BOOK]          serve a book to the browsers of this computer (the default)
  answer [BOOK]        the three answers
  value BOOK NAME...   one or more lines
  check BOOK           all errors and cautions, and what stands outside the measured range
  compare BOOK SCENARIO...   the plan beside scenarios, and what leads from one to the other
  backtest BOOK [NAME...] --from WEEK   forecasts of past Mondays beside what was recorded
  solve BOOK --make "NAME = VALUE" --by NAME   what an input must be for a line to come to a value
  import BOOK RECORDS FILE.csv   what the file's rows come to as records; with --write they are taken
  cards [NAME]         the functions of the language, or one of them

  --set 'NAME[@member,week]=literal'   another value for an input (repeatable)
  --scenario NAME                      look at the book under one of its scenarios
  --as-of DAY                          facts up to this day
  --seed N  --draws N  --block N       the draws
  --units us|metric                    units to show
  --json                               for programs
  --from WEEK                          the first Monday of backtest: 2027-W05
  --port N                             where open serves
  --map 'COLUMN=HEAD [-> UNIT]'        import: where a column comes from (repeatable); 'COLUMN:=TEXT' for every row
  --dates day-first|month-first        import: dates such as 03/08/2027
  --write  --skip-refused              import: take the rows; take the good ones beside refused ones
`

type list []string

func (l *list) String() string     { return strings.Join(*l, " ") }
func (l *list) Set(s string) error { *l = append(*l, s); return nil }

// run carries out one command line.
func run(args []string, out, errs io.Writer) int {
	c := &command{out: out, err: errs}
	words, err := c.options(args)
	if err != nil {
		return c.wrong(err)
	}
	verbs := map[string]func(*command, []string) int{"open": (*command).serve, "answer": (*command).answer, "value": (*command).value, "check": (*command).check, "compare": (*command).compare, "backtest": (*command).backtest, "import": (*command).intake, "solve": (*command).solve, "cards": (*command).cards}
	c.verb = "open"
	if len(words) > 0 {
		if _, ok := verbs[words[0]]; ok {
			c.verb, words = words[0], words[1:]
		} else if _, _, starter := sheets.Book(words[0]); !starter && !strings.ContainsAny(words[0], "./") {
			known := slices.Sorted(maps.Keys(verbs))
			return c.wrong(&engine.OptionError{Message: "there is no verb " + words[0], Hint: syntax.DidYouMean(words[0], known)})
		}
	}
	return verbs[c.verb](c, words)
}

// options reads the options, wherever they stand, and gives the other words.
func (c *command) options(args []string) ([]string, error) {
	flags := flag.NewFlagSet("wintertruss", flag.ContinueOnError)
	flags.SetOutput(io.Discard)
	var sets, maps list
	flags.Var(&sets, "set", "")
	flags.Var(&maps, "map", "")
	flags.StringVar(&c.make, "make", "", "")
	flags.StringVar(&c.by, "by", "", "")
	flags.StringVar(&c.rows.Dates, "dates", "", "")
	flags.BoolVar(&c.rows.SkipRefused, "skip-refused", false, "")
	flags.BoolVar(&c.write, "write", false, "")
	flags.StringVar(&c.opts.Scenario, "scenario", "", "")
	flags.StringVar(&c.opts.AsOf, "as-of", "", "")
	flags.StringVar(&c.opts.Units, "units", "", "")
	flags.IntVar(&c.opts.Draws, "draws", 0, "")
	flags.IntVar(&c.opts.Block, "block", 0, "")
	flags.StringVar(&c.from, "from", "", "")
	flags.IntVar(&c.port, "port", 0, "")
	flags.BoolVar(&c.json, "json", false, "")
	seed := flags.Uint64("seed", 0, "")
	var words []string
	for len(args) > 0 {
		if err := flags.Parse(args); err != nil {
			if errors.Is(err, flag.ErrHelp) {
				return nil, err
			}
			return nil, &engine.OptionError{Message: err.Error(), Hint: "wintertruss --help lists the options"}
		}
		if args = flags.Args(); len(args) > 0 {
			words, args = append(words, args[0]), args[1:]
		}
	}
	var wrong error
	flags.Visit(func(f *flag.Flag) {
		if f.Name == "seed" {
			c.opts.Seed = seed
		}
		if f.Name == "draws" && c.opts.Draws < 1 {
			wrong = &engine.OptionError{Message: fmt.Sprintf("--draws %d: at least one draw is needed", c.opts.Draws), Hint: "1024, say"}
		}
	})
	if wrong != nil {
		return nil, wrong
	}
	if !slices.Contains([]string{"", "us", "metric"}, c.opts.Units) {
		return nil, &engine.OptionError{Message: "--units " + c.opts.Units + ": there is no such habit", Hint: "us or metric"}
	}
	if !slices.Contains([]string{"", "day-first", "month-first"}, c.rows.Dates) {
		return nil, &engine.OptionError{Message: "--dates " + c.rows.Dates + ": there is no such order", Hint: "day-first or month-first; days as 2027-03-08 need none"}
	}
	c.opts.Sets, c.rows.Map = sets, maps
	now := time.Now()
	today, err := week.ParseDay(now.Format(time.DateOnly))
	if err != nil {
		return nil, err
	}
	c.opts.Today = today
	return words, nil
}

// wrong reports a wrong command.
func (c *command) wrong(err error) int {
	if errors.Is(err, flag.ErrHelp) {
		fmt.Fprint(c.out, usage)
		return exitDone
	}
	fmt.Fprintln(c.err, "wintertruss:", err)
	var o *engine.OptionError
	if !errors.As(err, &o) {
		fmt.Fprint(c.err, usage)
	}
	return exitWrong
}

// open reads the book.
func (c *command) open(book string) (*engine.Desk, error) {
	text, err := c.read(book)
	if err != nil {
		return nil, err
	}
	return engine.Open(c.book, text, c.opts)
}

// read gives the text of a book: a file, or a starter book by its name; "" is the
// starter that is shown when none is named.
func (c *command) read(book string) ([]byte, error) {
	if book == "" {
		book = sheets.Starter
	}
	c.book = book
	f, err := os.Open(book)
	if err != nil {
		if file, text, ok := sheets.Book(book); ok {
			c.book = file
			return text, nil
		}
		return nil, fmt.Errorf("the book cannot be read: %w", err)
	}
	defer f.Close()
	text, err := io.ReadAll(io.LimitReader(f, syntax.MostBytes+1)) // no more of it than a book can be
	if err != nil {
		return nil, fmt.Errorf("the book cannot be read: %w", err)
	}
	return text, nil
}

func (c *command) answer(words []string) int {
	if len(words) > 1 {
		return c.wrong(&engine.OptionError{Message: "answer takes one book", Hint: "wintertruss answer BOOK"})
	}
	d, err := c.open(strings.Join(words, ""))
	if err != nil {
		return c.wrong(err)
	}
	answers, err := d.Answers()
	if err != nil {
		return c.wrong(err)
	}
	code := exitDone
	if len(answers) == 0 {
		c.report(d.Errors()...)
		if len(d.Errors()) == 0 {
			c.report(&syntax.Error{Place: syntax.Place{Line: 1, Col: 1}, Name: "answers", Message: "the book has no answers block", Hint: "```answers with the rows pays, charge and carries"})
		}
		return exitError
	}
	for _, a := range answers {
		if a.Error != nil {
			c.report(a.Error)
			code = exitError
		}
	}
	if c.json {
		return c.printJSON(entryValues(answers), code)
	}
	c.printAnswers(d, answers)
	c.reportCautions(d)
	return code
}

func (c *command) value(words []string) int {
	if len(words) < 2 {
		return c.wrong(&engine.OptionError{Message: "value takes a book and the names of lines", Hint: "wintertruss value BOOK harvest"})
	}
	d, err := c.open(words[0])
	if err != nil {
		return c.wrong(err)
	}
	var values []*engine.Value
	code := exitDone
	for _, name := range words[1:] {
		v, err := d.Value(name)
		if err != nil {
			return c.wrong(err)
		}
		if v.Error != nil {
			c.report(v.Error)
		}
		if v.Broken {
			code = exitError
		}
		values = append(values, v)
	}
	if c.json {
		if len(values) == 1 {
			return c.printJSON(values[0], code)
		}
		return c.printJSON(values, code)
	}
	for i, v := range values {
		if i > 0 {
			fmt.Fprintln(c.out)
		}
		c.printValue(d, v)
	}
	return code
}

func (c *command) check(words []string) int {
	if len(words) > 1 {
		return c.wrong(&engine.OptionError{Message: "check takes one book", Hint: "wintertruss check BOOK"})
	}
	d, err := c.open(strings.Join(words, ""))
	if err != nil {
		return c.wrong(err)
	}
	c.report(d.Errors()...)
	c.report(d.CellFaults()...)
	cautions := c.reportCautions(d)
	notes := c.reportNotes(d)
	errors := len(d.Errors())
	if c.json {
		code := exitDone
		if errors > 0 {
			code = exitError
		}
		return c.printJSON(map[string]int{"errors": errors, "cells": len(d.CellFaults()), "cautions": cautions, "outside": notes}, code)
	}
	fmt.Fprintf(c.out, "%s: %s, %s, %s, %s\n", c.book, counted(errors, "error"), counted(len(d.CellFaults()), "line with cells that cannot be computed"), counted(cautions, "caution"), counted(notes, "line outside what was measured"))
	if errors > 0 {
		return exitError
	}
	return exitDone
}

func (c *command) compare(words []string) int {
	if len(words) < 2 {
		return c.wrong(&engine.OptionError{Message: "compare takes a book and the names of scenarios", Hint: "wintertruss compare BOOK colder later"})
	}
	text, err := c.read(words[0])
	if err != nil {
		return c.wrong(err)
	}
	x, err := engine.Compare(c.book, text, c.opts, words[1:])
	if err != nil {
		return c.wrong(err)
	}
	code := exitDone
	for _, answers := range append([][]engine.Answer{x.Plan}, scenarioAnswers(x)...) {
		for _, a := range answers {
			if a.Error != nil {
				c.report(a.Error)
				code = exitError
			}
		}
	}
	if c.json {
		return c.printJSON(comparisonJSON(x), code)
	}
	c.printComparison(x)
	return code
}
