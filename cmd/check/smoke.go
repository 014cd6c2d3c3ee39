package main

import (
	"bytes"
	"context"
	"errors"
	"fmt"
	"os"
	"path/filepath"
	"regexp"
	"strings"
	"time"
)

// smokeAnswer builds the program and asks it the three questions the way a
// person does who has just read the README: no book, no setting, no environment.
func smokeAnswer(ctx context.Context, g *gate) error {
	dir, err := os.MkdirTemp("", "wintertruss-check-")
	if err != nil {
		return err
	}
	defer os.RemoveAll(dir)
	program := filepath.Join(dir, "wintertruss")
	if _, err := g.output(ctx, g.root, "go", "build", "-o", program, "./cmd/wintertruss"); err != nil {
		return err
	}
	c := command(ctx, dir, program, "answer")
	c.Env = []string{} // not nil: nil would hand ours down
	var out, said bytes.Buffer
	c.Stdout, c.Stderr = &out, &said
	if err := c.Run(); err != nil {
		return fmt.Errorf("%s%swintertruss answer: %w", out.String(), said.String(), err)
	}
	return threeAnswers(out.String())
}

// threeAnswers says whether the text holds three questions, each followed by an
// answer that has a figure in it before the next question begins.
func threeAnswers(text string) error {
	questions := 0
	answered := true
	for line := range strings.Lines(text) {
		if strings.HasSuffix(strings.TrimSpace(line), "?") {
			if !answered {
				break
			}
			questions, answered = questions+1, false
			continue
		}
		answered = answered || strings.ContainsAny(line, "0123456789")
	}
	if questions != 3 || !answered {
		return fmt.Errorf("%swintertruss answer: three questions are to be answered with figures; found %d, the last one answered: %t", text, questions, answered)
	}
	return nil
}

// target is one fuzz test.
type target struct{ pkg, name string }

const (
	// A found failure stands in the package's testdata and fails the tests from
	// then on; the smoke only shows that the target runs and that nothing is
	// found at once. Long runs are for a person.
	fuzzTime = "3s"
	// Go tries for a minute to make an interesting input smaller, by default.
	fuzzMinimize = "20x"
)

// smokeFuzz finds the fuzz targets of the project and runs each for a moment.
func smokeFuzz(ctx context.Context, g *gate) error {
	list, err := g.output(ctx, g.root, "go", "test", "-list", "^Fuzz", "./...")
	if err != nil {
		return err
	}
	targets := fuzzTargets(list)
	if len(targets) == 0 {
		return errors.New("no fuzz target was found, and what reads a person's text is meant to have one")
	}
	var failed []string
	for _, t := range targets {
		start := time.Now()
		err := g.fuzz(ctx, t)
		if err != nil && lateStop(err.Error()) {
			fmt.Fprintf(g.out, "  %s %s: stopped late and found nothing (golang/go#75804), once more\n", t.pkg, t.name)
			err = g.fuzz(ctx, t)
		}
		if err != nil {
			failed = append(failed, err.Error())
		}
		fmt.Fprintf(g.out, "  %5.1f s  %s %s\n", time.Since(start).Seconds(), t.pkg, t.name)
	}
	if len(failed) > 0 {
		return fmt.Errorf("%s\n%d of %d fuzz targets failed", strings.Join(failed, "\n"), len(failed), len(targets))
	}
	return ctx.Err()
}

func (g *gate) fuzz(ctx context.Context, t target) error {
	_, err := g.output(ctx, g.root, "go", "test", "-run", "^$", "-fuzz", "^"+t.name+"$",
		"-fuzztime", fuzzTime, "-fuzzminimizetime", fuzzMinimize, t.pkg)
	return err
}

// fuzzTargets reads the output of `go test -list`: the names of a package, then
// a line that ends them and names it.
func fuzzTargets(list string) []target {
	var all []target
	var names []string
	for line := range strings.Lines(list) {
		f := strings.Fields(line)
		switch {
		case len(f) == 1 && strings.HasPrefix(f[0], "Fuzz"):
			names = append(names, f[0])
		case len(f) >= 2 && f[0] == "ok":
			for _, n := range names {
				all = append(all, target{f[1], n})
			}
			names = nil
		}
	}
	return all
}

var foundInput = regexp.MustCompile(`(?i)failing input|panic:|fatal error:`)

// lateStop says whether a fuzz run failed only because Go's coordinator took the
// end of its own time for a failure: a race in Go itself (golang/go#75804), seen
// on busy machines. A real finding is written down as a failing input.
func lateStop(output string) bool {
	return strings.Contains(output, "context deadline exceeded") && !foundInput.MatchString(output)
}
