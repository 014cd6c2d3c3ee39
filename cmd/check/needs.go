package main

import (
	"context"
	"fmt"
	"os"
	"os/exec"
	"strings"
)

// need is something of the machine without which a step cannot run.
type need struct {
	name     string
	why      string
	packages []string // of Debian
	needed   bool     // false: nothing uses it yet
	present  func(context.Context) bool
}

// needs is what the gate uses beside Go itself.
var needs = []need{
	{"gcc", "the race detector is linked with C", []string{"gcc", "libc6-dev"}, true, compilesC},
	{"chromium", "screens are tested in a real browser", []string{"chromium"}, true, hasChromium},
}

// compilesC says whether a C program can be compiled and linked: a compiler
// without the C library's headers is not enough.
func compilesC(ctx context.Context) bool {
	c := exec.CommandContext(ctx, "gcc", "-x", "c", "-o", os.DevNull, "-")
	c.Stdin = strings.NewReader("#include <stdlib.h>\nint main(void) { return EXIT_SUCCESS; }\n")
	return c.Run() == nil
}

func hasChromium(context.Context) bool {
	for _, name := range []string{"/usr/bin/chromium", "chromium"} {
		if _, err := exec.LookPath(name); err == nil {
			return true
		}
	}
	return false
}

// machine is what decides how a missing need can be met.
type machine struct{ root, debian bool }

func thisMachine() machine {
	_, err := os.Stat("/etc/debian_version")
	return machine{root: os.Geteuid() == 0, debian: err == nil}
}

// decide says which packages to install for the missing needs, none when there
// are no missing ones, and fails with the command to run when it may not
// install them itself.
func decide(missing []need, m machine) (packages []string, err error) {
	var names []string
	for _, n := range missing {
		names = append(names, n.name+" ("+n.why+")")
		packages = append(packages, n.packages...)
	}
	switch {
	case len(missing) == 0:
		return nil, nil
	case !m.debian:
		return nil, fmt.Errorf("missing: %s; install it with this system's own package manager, then run the check again", strings.Join(names, ", "))
	case !m.root:
		return nil, fmt.Errorf("missing: %s; run: sudo apt-get update && sudo %s", strings.Join(names, ", "), strings.Join(install(packages), " "))
	}
	return packages, nil
}

// install is the command that installs Debian packages.
func install(packages []string) []string {
	return append([]string{"apt-get", "install", "-y", "--no-install-recommends"}, packages...)
}

// missing gives the needs that are in use and not there.
func missing(ctx context.Context, all []need) []need {
	var m []need
	for _, n := range all {
		if n.needed && !n.present(ctx) {
			m = append(m, n)
		}
	}
	return m
}

// checkNeeds sees to it that the machine has what the steps use.
func checkNeeds(ctx context.Context, g *gate) error {
	packages, err := decide(missing(ctx, needs), thisMachine())
	if err != nil || len(packages) == 0 {
		return err
	}
	// Debian's own questions would wait for a keyboard that is not there.
	quiet := []string{"DEBIAN_FRONTEND=noninteractive"}
	for _, args := range [][]string{{"apt-get", "update"}, install(packages)} {
		fmt.Fprintf(g.out, "%s\n", strings.Join(args, " "))
		if _, err := g.output(ctx, g.root, "env", append(quiet, args...)...); err != nil {
			return err
		}
	}
	if still := missing(ctx, needs); len(still) > 0 {
		return fmt.Errorf("%s was installed and still does not work here", still[0].name)
	}
	return nil
}
