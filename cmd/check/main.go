package main

import (
	"bytes"
	"context"
	"errors"
	"fmt"
	"io"
	"os"
	"os/exec"
	"os/signal"
	"path/filepath"
	"strings"
	"time"
)

// longest is how long the whole gate may take before it is stopped and fails.
const longest = 20 * time.Minute

// step is one thing that must hold.
type step struct {
	name string
	run  func(context.Context, *gate) error
	// first: without it nothing after it is worth trying.
	first bool
}

// steps are run in this order. The tests come last, so that the closing lines
// of `go test` stand at the end of what is printed.
var steps = []step{
	{"what the machine must have", checkNeeds, true},
	{"modules are here", fetchModules, true},
	{"source is formatted as gofmt does", checkFormat, false},
	{"go build ./...", plain("go", "build", "./..."), true},
	{"go vet ./...", plain("go", "vet", "./..."), false},
	{"staticcheck ./...", runStaticcheck, false},
	{"govulncheck ./...", runGovulncheck, false},
	{"the README's command, with an empty environment", smokeAnswer, false},
	{"every fuzz target, briefly", smokeFuzz, false},
	{"every benchmark, once", plain("go", "test", "-run", "^$", "-bench", ".", "-benchtime", "1x", "./..."), false},
	{"go test -race ./...", runTests, false},
}

// gate is one run of the check.
type gate struct {
	root string // folder of the project's go.mod
	out  io.Writer
}

func main() {
	ctx, stop := signal.NotifyContext(context.Background(), os.Interrupt)
	defer stop()
	ctx, cancel := context.WithTimeout(ctx, longest)
	defer cancel()
	root, err := projectRoot(ctx)
	if err != nil {
		fmt.Fprintln(os.Stderr, "check:", err)
		os.Exit(2)
	}
	if !runSteps(ctx, &gate{root, os.Stdout}, steps) {
		os.Exit(1)
	}
}

// projectRoot gives the folder of the go.mod that the working folder belongs to.
func projectRoot(ctx context.Context) (string, error) {
	b, err := exec.CommandContext(ctx, "go", "env", "GOMOD").Output()
	file := strings.TrimSpace(string(b))
	if err != nil || file == "" || file == os.DevNull {
		return "", fmt.Errorf("run it inside the project: no go.mod found (%v)", err)
	}
	return filepath.Dir(file), nil
}

// runSteps runs the steps, prints each with its time, and says whether all held.
func runSteps(ctx context.Context, g *gate, steps []step) bool {
	begin := time.Now()
	var report strings.Builder
	failed, left := 0, 0
	for i, s := range steps {
		fmt.Fprintf(g.out, "--- %s\n", s.name)
		start := time.Now()
		err := s.run(ctx, g)
		word := "ok  "
		if err != nil {
			word = "FAIL"
			failed++
			fmt.Fprintf(g.out, "%v\n", err)
		}
		line := fmt.Sprintf("%s %6.1f s  %s\n", word, time.Since(start).Seconds(), s.name)
		fmt.Fprint(g.out, line)
		report.WriteString(line)
		if ctx.Err() != nil || err != nil && s.first {
			left = len(steps) - i - 1
			break
		}
	}
	fmt.Fprintf(g.out, "\n%s", report.String())
	switch {
	case ctx.Err() != nil:
		fmt.Fprintf(g.out, "check: stopped after %.0f s: %v\n", time.Since(begin).Seconds(), context.Cause(ctx))
	case failed > 0:
		fmt.Fprintf(g.out, "check: %d of %d steps failed, %d not tried, in %.0f s\n", failed, len(steps), left, time.Since(begin).Seconds())
	default:
		fmt.Fprintf(g.out, "check: all %d steps hold, in %.0f s\n", len(steps), time.Since(begin).Seconds())
		return true
	}
	return false
}

// plain makes a step of one command that is quiet when all is well.
func plain(name string, args ...string) func(context.Context, *gate) error {
	return func(ctx context.Context, g *gate) error {
		_, err := g.output(ctx, g.root, name, args...)
		return err
	}
}

// command prepares a command in folder dir. When the time is over it is asked
// to stop, so that it can end its own children, and ended only after a while.
func command(ctx context.Context, dir, name string, args ...string) *exec.Cmd {
	c := exec.CommandContext(ctx, name, args...)
	c.Dir = dir
	c.Cancel = func() error { return c.Process.Signal(os.Interrupt) }
	c.WaitDelay = 10 * time.Second
	return c
}

// output runs a command and gives what it wrote on stdout; an error holds what
// it wrote on stdout and stderr.
func (g *gate) output(ctx context.Context, dir, name string, args ...string) (string, error) {
	c := command(ctx, dir, name, args...)
	var out, said bytes.Buffer
	c.Stdout, c.Stderr = &out, &said
	if err := c.Run(); err != nil {
		return out.String(), fmt.Errorf("%s%s%s: %w", out.String(), said.String(), strings.Join(c.Args, " "), err)
	}
	return out.String(), nil
}

// fetchModules downloads what the project and its tools are built from; with
// everything in the module cache it needs no network.
func fetchModules(ctx context.Context, g *gate) error {
	for _, dir := range []string{g.root, g.toolsFolder()} {
		if _, err := g.output(ctx, dir, "go", "mod", "download"); err != nil {
			return err
		}
	}
	return nil
}

// runTests runs every test under the race detector and shows what go test
// shows. Nothing is taken from the cache of test results: the rules of the
// house look at files that go test does not know of.
func runTests(ctx context.Context, g *gate) error {
	c := command(ctx, g.root, "go", "test", "-race", "-count=1", "-timeout=15m", "./...")
	c.Env = append(os.Environ(), "CGO_ENABLED=1") // the race detector needs it
	c.Stdout, c.Stderr = g.out, g.out
	if err := c.Run(); err != nil {
		return errors.New("a test failed: see above")
	}
	return nil
}
