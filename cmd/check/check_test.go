package main

import (
	"bytes"
	"context"
	"errors"
	"slices"
	"strings"
	"testing"
)

func TestDecide(t *testing.T) {
	compiler := need{name: "gcc", why: "the race detector", packages: []string{"gcc", "libc6-dev"}}
	browser := need{name: "chromium", why: "screens", packages: []string{"chromium"}}
	rootOnDebian := machine{root: true, debian: true}
	for _, c := range []struct {
		name     string
		missing  []need
		on       machine
		packages string
		says     []string // parts of the error; none: no error
	}{
		{"nothing missing", nil, machine{}, "", nil},
		{"root on Debian installs", []need{compiler, browser}, rootOnDebian, "gcc libc6-dev chromium", nil},
		{"only what is missing", []need{browser}, rootOnDebian, "chromium", nil},
		{"not root is told the command", []need{compiler}, machine{debian: true}, "",
			[]string{"gcc", "the race detector", "sudo apt-get update && sudo apt-get install -y --no-install-recommends gcc libc6-dev"}},
		{"another system is told what is missing", []need{browser}, machine{root: true}, "",
			[]string{"chromium", "screens", "own package manager"}},
	} {
		t.Run(c.name, func(t *testing.T) {
			packages, err := decide(c.missing, c.on)
			if got := strings.Join(packages, " "); got != c.packages {
				t.Errorf("packages %q, want %q", got, c.packages)
			}
			if (err != nil) != (len(c.says) > 0) {
				t.Fatalf("error %v, want one that says %q", err, c.says)
			}
			for _, part := range c.says {
				if !strings.Contains(err.Error(), part) {
					t.Errorf("error %q does not say %q", err, part)
				}
			}
		})
	}
}

func TestMissingCountsOnlyWhatIsNeeded(t *testing.T) {
	absent := func(context.Context) bool { return false }
	there := func(context.Context) bool { return true }
	got := missing(t.Context(), []need{
		{name: "used, there", needed: true, present: there},
		{name: "used, absent", needed: true, present: absent},
		{name: "not used yet, absent", needed: false, present: absent},
	})
	if len(got) != 1 || got[0].name != "used, absent" {
		t.Errorf("missing: %v", got)
	}
}

func TestEveryNeedCanBeMet(t *testing.T) {
	for _, n := range needs {
		if n.name == "" || n.why == "" || len(n.packages) == 0 || n.present == nil {
			t.Errorf("need %q is incomplete", n.name)
		}
	}
}

func TestRunSteps(t *testing.T) {
	hold := func(context.Context, *gate) error { return nil }
	fail := func(context.Context, *gate) error { return errors.New("the reason") }
	for _, c := range []struct {
		name  string
		steps []step
		ok    bool
		says  string
	}{
		{"all hold", []step{{"a", hold, true}, {"b", hold, false}}, true, "all 2 steps hold"},
		{"one fails, the next is tried", []step{{"a", fail, false}, {"b", hold, false}}, false, "1 of 2 steps failed, 0 not tried"},
		{"a first one fails, the rest is not tried", []step{{"a", fail, true}, {"b", hold, false}, {"c", hold, false}}, false, "1 of 3 steps failed, 2 not tried"},
	} {
		t.Run(c.name, func(t *testing.T) {
			var out bytes.Buffer
			ok := runSteps(t.Context(), &gate{out: &out}, c.steps)
			if ok != c.ok || !strings.Contains(out.String(), c.says) {
				t.Errorf("ok %t, want %t and %q in:\n%s", ok, c.ok, c.says, out.String())
			}
			if !c.ok && !strings.Contains(out.String(), "the reason") {
				t.Errorf("the reason is not printed:\n%s", out.String())
			}
		})
	}
}

func TestRunStepsStopsWhenTimeIsOver(t *testing.T) {
	ctx, cancel := context.WithCancel(t.Context())
	tried := 0
	steps := []step{
		{"a", func(context.Context, *gate) error { tried++; cancel(); return nil }, false},
		{"b", func(context.Context, *gate) error { tried++; return nil }, false},
	}
	var out bytes.Buffer
	if runSteps(ctx, &gate{out: &out}, steps) || tried != 1 {
		t.Errorf("went on after the time was over: %d tried\n%s", tried, out.String())
	}
}

func TestCommandOutput(t *testing.T) {
	g := &gate{}
	out, err := g.output(t.Context(), ".", "go", "env", "GOMOD")
	if err != nil || !strings.HasSuffix(strings.TrimSpace(out), "go.mod") {
		t.Errorf("%q, %v", out, err)
	}
	if _, err := g.output(t.Context(), ".", "go", "no-such-verb"); err == nil || !strings.Contains(err.Error(), "no-such-verb: unknown command") {
		t.Errorf("an error does not hold what the command said: %v", err)
	}
}

func TestFuzzTargets(t *testing.T) {
	got := fuzzTargets(`FuzzRead
FuzzFormula
ok  	wintertruss/engine/syntax	0.004s
?   	wintertruss/engine	[no test files]
ok  	wintertruss/engine/unit	0.002s
FuzzSeason
ok  	wintertruss/engine/week	0.003s [no tests to run]
`)
	want := []target{
		{"wintertruss/engine/syntax", "FuzzRead"},
		{"wintertruss/engine/syntax", "FuzzFormula"},
		{"wintertruss/engine/week", "FuzzSeason"},
	}
	if !slices.Equal(got, want) {
		t.Errorf("%v, want %v", got, want)
	}
}

func TestLateStop(t *testing.T) {
	for _, c := range []struct {
		output string
		late   bool
	}{
		{"fuzz: elapsed: 3s\n--- FAIL: FuzzRead (3.20s)\n    context deadline exceeded\nFAIL", true},
		{"--- FAIL: FuzzRead (1.0s)\n    --- FAIL: FuzzRead (0.00s)\n        read_test.go:9: wrong\n    Failing input written to testdata/fuzz/FuzzRead/5bad", false},
		{"context deadline exceeded\n    Failing input written to testdata/fuzz/FuzzRead/5bad", false},
		{"panic: context deadline exceeded", false},
		{"build failed", false},
	} {
		if lateStop(c.output) != c.late {
			t.Errorf("%t for %q", !c.late, c.output)
		}
	}
}

func TestThreeAnswers(t *testing.T) {
	const good = "Does it pay?\n  Likely: 15 of 20 seasons\nWhat to charge?\n  4.25 USD/lb\nDoes it carry?\n  Yes, 1.4\n"
	for _, c := range []struct {
		name, text string
		ok         bool
	}{
		{"three", good, true},
		{"nothing", "", false},
		{"two", strings.Replace(good, "Does it carry?", "It carries.", 1), false},
		{"four", good + "And?\n  1\n", false},
		{"the second has no figure", strings.Replace(good, "4.25 USD/lb", "unknown", 1), false},
		{"the last has no figure", strings.Replace(good, "Yes, 1.4", "Yes", 1), false},
	} {
		if err := threeAnswers(c.text); (err == nil) != c.ok {
			t.Errorf("%s: %v", c.name, err)
		}
	}
}

// The stream has the form that golang.org/x/vuln v1.9.0 documents in its package
// internal/govulncheck: one object a message, several findings a report.
const stream = `
{"config": {"protocol_version": "v1.0.0", "go_version": "go1.26.8"}}
{"progress": {"message": "Checking your code"}}
{"osv": {"id": "GO-2026-0001"}}
{"finding": {"osv": "GO-2026-0001", "fixed_version": "v1.26.9", "trace": [{"module": "stdlib", "version": "v1.26.8"}]}}
{"finding": {"osv": "GO-2026-0001", "fixed_version": "v1.26.9", "trace": [{"module": "stdlib", "package": "net/url", "function": "Parse"}, {"module": "wintertruss", "package": "wintertruss/cmd/wintertruss", "function": "main"}]}}
{"finding": {"osv": "GO-2026-0002", "fixed_version": "v1.26.10", "trace": [{"module": "stdlib", "version": "v1.26.8"}]}}
{"finding": {"osv": "GO-2026-0003", "trace": [{"module": "stdlib", "package": "os", "receiver": "*Root", "function": "Open"}]}}
{"finding": {"osv": "GO-2026-0004", "fixed_version": "v0.2.0", "trace": [{"module": "example.org/dependency", "version": "v0.1.0"}]}}
{"finding": {"osv": "GO-2026-0005", "trace": [{"module": "example.org/other", "package": "example.org/other"}]}}
`

func TestFindings(t *testing.T) {
	found, err := readFindings(strings.NewReader(stream))
	if err != nil {
		t.Fatal(err)
	}
	notes, faults := judge(found)
	wantNotes := []string{
		"GO-2026-0001 in stdlib, called: net/url.Parse; mended in Go 1.26.9",
		"1 known weaknesses of this Go's library are in parts that our code does not call",
	}
	wantFaults := []string{
		"GO-2026-0003 in stdlib, called: os.Root.Open; not mended in any Go yet: do without it",
		"GO-2026-0004 in example.org/dependency; mended in v0.2.0",
		"GO-2026-0005 in example.org/other; not mended in any version: do without it",
	}
	if !slices.Equal(notes, wantNotes) {
		t.Errorf("notes:\n%s", strings.Join(notes, "\n"))
	}
	if !slices.Equal(faults, wantFaults) {
		t.Errorf("faults:\n%s", strings.Join(faults, "\n"))
	}
}

func TestFindingsOfNothingRead(t *testing.T) {
	for _, text := range []string{"", `{"config": {"protocol_version": "v1.0.0"}}`, `{"osv": `} {
		if _, err := readFindings(strings.NewReader(text)); err == nil {
			t.Errorf("no error for %q", text)
		}
	}
}
