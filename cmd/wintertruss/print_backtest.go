package main

import (
	"errors"
	"fmt"
	"io/fs"
	"math"
	"strings"

	"wintertruss/engine"
	"wintertruss/engine/store"
)

// backtest holds forecasts of past Mondays against what was recorded.
func (c *command) backtest(words []string) int {
	if len(words) < 1 || c.from == "" {
		return c.wrong(&engine.OptionError{Message: "backtest takes a book and the week of its first Monday", Hint: "wintertruss backtest BOOK --from 2027-W05"})
	}
	text, err := c.read(words[0])
	if err != nil {
		return c.wrong(err)
	}
	log, err := store.ReadLog(c.book)
	if err != nil && !errors.Is(err, fs.ErrNotExist) {
		return c.wrong(fmt.Errorf("the log of edits cannot be read: %w", err))
	}
	b, err := engine.RunBacktest(c.book, text, c.opts, c.from, words[1:], log)
	if err != nil {
		return c.wrong(err)
	}
	code := exitDone
	if len(words) > 1 && len(b.Skipped) > 0 {
		code = exitError
	}
	for _, s := range b.Skipped {
		fmt.Fprintf(c.err, "%s: %s cannot be scored: %s\n", c.book, s.Name, s.Why)
	}
	if c.json {
		return c.printJSON(b, code)
	}
	c.printBacktest(b)
	return code
}

// printBacktest prints a table for each line: its scores by distance, in total and by member.
func (c *command) printBacktest(b *engine.Backtest) {
	first, last := b.Mondays[0], b.Mondays[len(b.Mondays)-1]
	name := b.Title
	if name == "" {
		name = "The book"
	}
	say := func(text string) { fmt.Fprintln(c.out, wrap(text, 100, "")) }
	fmt.Fprintf(c.out, "%s: forecasts of %s, %s to %s, as of %s\n\n", name, counted(len(b.Mondays), "Monday"), first, last, b.Day)
	say("Each forecast was made with the records of closed weeks only. 1 week ahead is the week that begins on its Monday. " +
		"Bias is the mean of forecast less fact, error the same without its sign; per cents are of the facts. " +
		"The last column is the error of saying the mean of the last two known weeks again.")
	say("Bands are those of the draws alone, 8 in 10: what was counted and weighed has not narrowed them.")
	for _, s := range b.Lines {
		c.printScored(s)
	}
	if len(b.Lines) == 0 {
		say("\nNo line has both a forecast and records: bind one with observe, or make one with recorded_or.")
	}
	fmt.Fprintln(c.out, "\nWhat was known only later")
	for _, text := range b.Later.Says() {
		fmt.Fprintln(c.out, wrap("  "+text, 100, "  "))
	}
}

// scoreColumns is the layout of a row of scores.
const scoreColumns = "  %-26s %6s %10s %18s %18s %9s   %s\n"

// printScored prints the scores of one line.
func (c *command) printScored(s *engine.Scored) {
	fmt.Fprintf(c.out, "\n%s", s.Name)
	if s.Label != s.Name {
		fmt.Fprintf(c.out, "   %s", s.Label)
	}
	if s.Unit != "" && s.Unit != "1" {
		fmt.Fprintf(c.out, ", %s", s.Unit)
	}
	fmt.Fprintf(c.out, "\n  against %s\n", s.Facts)
	if len(s.Of) == 0 {
		fmt.Fprintln(c.out, "  nothing was recorded of it in these weeks")
		return
	}
	fmt.Fprintf(c.out, scoreColumns, "", "weeks", "mean fact", "bias", "error", "in band", "two weeks again")
	for _, p := range s.Of {
		fmt.Fprintln(c.out, "  "+p.Label)
		for i := range p.Scores {
			k := &p.Scores[i]
			ahead := "  1 week ahead"
			if k.Ahead > 1 {
				ahead = fmt.Sprintf("  %d weeks ahead", k.Ahead)
			}
			band, peer := "no band", "-"
			if k.Banded > 0 {
				band = fmt.Sprintf("%d of %d", k.Held, k.Banded)
			}
			if k.Peer.Weeks > 0 {
				peer = amount(k.Peer.Error, k.Peer.Fact, "")
				if k.Peer.Weeks < k.Weeks {
					peer += fmt.Sprintf(" over %s, the forecast %s", counted(k.Peer.Weeks, "week"), engine.Show(k.Peer.Ours, ""))
				}
			}
			fmt.Fprintf(c.out, scoreColumns, ahead, fmt.Sprint(k.Weeks), engine.Show(k.Fact, ""), amount(k.Bias, k.Fact, "+"), amount(k.Error, k.Fact, ""), band, peer)
		}
	}
}

// amount writes a figure and its per cent of a mean fact; with sign "+" both have one.
func amount(x, fact float64, sign string) string {
	text := engine.Show(x, "")
	if sign != "" && x > 0 && strings.ContainsAny(text, "123456789") {
		text = sign + text
	}
	if fact == 0 {
		return text
	}
	return text + fmt.Sprintf(" (%"+sign+".0f %%)", 100*x/math.Abs(fact))
}
