package main

import (
	"context"
	"encoding/json"
	"errors"
	"fmt"
	"io"
	"maps"
	"path/filepath"
	"slices"
	"strings"
)

// The known weaknesses of Go modules, as the Go project publishes them, come
// from its own module at a fixed version: the gate then gives the same result
// on every machine and needs no network once the module is here. govulncheck
// reads the module's folder of reports as it stands. To renew it, ask
// `go mod download -json golang.org/x/vulndb@latest` and write its version and
// sum here.
const (
	reportsModule  = "golang.org/x/vulndb"
	reportsVersion = "v0.0.0-20261105234957-e22db6528018"
	reportsSum     = "h1:mfngRv0Yoh0VApsXKEN82CjD99kl7mtparN3bs3JnqI="
)

func (g *gate) toolsFolder() string { return filepath.Join(g.root, "cmd", "check", "tools") }

// tool builds a program of the tools module, when it is not built yet, and
// gives its path.
func (g *gate) tool(ctx context.Context, name string) (string, error) {
	path, err := g.output(ctx, g.toolsFolder(), "go", "tool", "-n", name)
	return strings.TrimSpace(path), err
}

func runStaticcheck(ctx context.Context, g *gate) error {
	program, err := g.tool(ctx, "staticcheck")
	if err != nil {
		return err
	}
	_, err = g.output(ctx, g.root, program, "./...")
	return err
}

func runGovulncheck(ctx context.Context, g *gate) error {
	program, err := g.tool(ctx, "govulncheck")
	if err != nil {
		return err
	}
	folder, err := g.reports(ctx)
	if err != nil {
		return err
	}
	stream, err := g.output(ctx, g.root, program, "-format", "json", "-db", "file://"+filepath.ToSlash(folder), "./...")
	if err != nil {
		return err
	}
	found, err := readFindings(strings.NewReader(stream))
	if err != nil {
		return err
	}
	notes, faults := judge(found)
	for _, n := range notes {
		fmt.Fprintln(g.out, "note:", n)
	}
	if len(faults) > 0 {
		return errors.New(strings.Join(faults, "\n"))
	}
	return nil
}

// reports gives the folder with one report a file.
func (g *gate) reports(ctx context.Context) (string, error) {
	text, err := g.output(ctx, g.root, "go", "mod", "download", "-json", reportsModule+"@"+reportsVersion)
	if err != nil {
		return "", err
	}
	var m struct{ Dir, Sum string }
	if err := json.Unmarshal([]byte(text), &m); err != nil {
		return "", fmt.Errorf("go mod download %s: %w", reportsModule, err)
	}
	if m.Sum != reportsSum {
		return "", fmt.Errorf("%s has the sum %s, not %s: it is not what was reviewed", reportsModule, m.Sum, reportsSum)
	}
	return filepath.Join(m.Dir, "data", "osv"), nil
}

// finding is a known weakness of something that the project is built with.
type finding struct {
	report string // GO-2026-1234
	module string // "stdlib" for Go's own library
	mended string // first version without it, "" when there is none yet
	called string // the weak function, "" when our code does not reach it
}

// readFindings reads what `govulncheck -format json` writes: a stream of
// objects, several findings for one report, from vague (the module is
// required) to exact (the function is called). One a report and module is
// kept, the most exact.
func readFindings(r io.Reader) ([]finding, error) {
	type frame struct{ Module, Package, Function, Receiver string }
	type message struct {
		OSV     *struct{ ID string }
		Finding *struct {
			OSV          string
			FixedVersion string `json:"fixed_version"`
			Trace        []frame
		}
	}
	type key struct{ report, module string }
	all := map[key]finding{}
	reports := 0
	for d := json.NewDecoder(r); ; {
		var m message
		if err := d.Decode(&m); err == io.EOF {
			break
		} else if err != nil {
			return nil, fmt.Errorf("reading what govulncheck wrote: %w", err)
		}
		if m.OSV != nil {
			reports++
		}
		if m.Finding == nil || len(m.Finding.Trace) == 0 {
			continue
		}
		weak := m.Finding.Trace[0]
		f := finding{report: m.Finding.OSV, module: weak.Module, mended: m.Finding.FixedVersion}
		if weak.Function != "" {
			where := weak.Package
			if weak.Receiver != "" {
				where += "." + strings.TrimPrefix(weak.Receiver, "*")
			}
			f.called = where + "." + weak.Function
		}
		k := key{f.report, f.module}
		if old, ok := all[k]; !ok || old.called == "" {
			all[k] = f
		}
	}
	// Reports about Go's own library always concern us, whatever its version.
	if reports == 0 {
		return nil, errors.New("govulncheck read no report at all: its reports are not where they should be")
	}
	return slices.SortedFunc(maps.Values(all), func(a, b finding) int {
		return strings.Compare(a.report+a.module, b.report+b.module)
	}), nil
}

// judge tells findings that must be mended here from those that are only noted.
//
// A finding in a module that we chose is ours to mend, called or not: raise it
// or leave it. A finding in Go's own library that a newer Go mends is a note:
// the Go that builds is the machine's, and the project cannot raise it. One that
// no Go mends yet is ours to avoid when our code calls it.
func judge(all []finding) (notes, faults []string) {
	quiet := 0
	for _, f := range all {
		what := f.report + " in " + f.module
		if f.called != "" {
			what += ", called: " + f.called
		}
		switch {
		case f.module != "stdlib" && f.mended == "":
			faults = append(faults, what+"; not mended in any version: do without it")
		case f.module != "stdlib":
			faults = append(faults, what+"; mended in "+f.mended)
		case f.called == "":
			quiet++
		case f.mended == "":
			faults = append(faults, what+"; not mended in any Go yet: do without it")
		default:
			notes = append(notes, what+"; mended in Go "+strings.TrimPrefix(f.mended, "v"))
		}
	}
	if quiet > 0 {
		notes = append(notes, fmt.Sprintf("%d known weaknesses of this Go's library are in parts that our code does not call", quiet))
	}
	return notes, faults
}
