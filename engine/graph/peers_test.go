package graph

import (
	"bytes"
	"encoding/json"
	"math"
	"os"
	"os/exec"
	"strings"
	"testing"
)

// peerLine is what peers/peers.js writes for one library, graph and edit.
type peerLine struct {
	Library, Graph, Edit string
	Value                float64 // of the edited input in the end
	Build, Nanoseconds   float64
	Sum                  float64 // of the sinks in the end
	Failed               string
}

// BenchmarkPeers is BenchmarkEdit beside libraries of signals under Node, where
// both are present: run npm install in engine/graph/peers first. Reported are
// nanoseconds an edit; build-ms is to make the graph and compute it once.
func BenchmarkPeers(b *testing.B) {
	if _, err := exec.LookPath("node"); err != nil {
		b.Skip("no Node here")
	}
	if _, err := os.Stat("peers/node_modules"); err != nil {
		b.Skip("run npm install in engine/graph/peers first")
	}
	lines := runPeers(b)
	for _, s := range shapes() {
		inputs := s.means() // as the edits before left them
		for _, e := range s.edits {
			b.Run(s.name+"/"+e.name, func(b *testing.B) {
				g, m, f := s.graph(), s.means(), s.floor()
				compute := m.compute()
				g.Run(compute)
				best := inTurns(b, 1+50_000/e.below, func() {
					m.value[e.input]++
					g.Touch(e.input)
					g.Run(compute)
				}, func() {
					f.set(e.input, f.value[e.input]+1)
				})
				b.ReportMetric(best[0], "graph-ns")
				b.ReportMetric(best[1], "floor-ns")
				for _, l := range lines {
					switch {
					case l.Graph != s.name:
					case l.Failed != "":
						b.Logf("%s: %s", l.Library, l.Failed)
					case l.Edit == e.name:
						b.ReportMetric(l.Nanoseconds, l.Library+"-ns")
						b.ReportMetric(l.Build/1e6, l.Library+"-build-ms")
						inputs.value[e.input] = l.Value
						s.graph().Run(inputs.compute())
						sum := 0.0
						for _, sink := range s.sinks {
							sum += inputs.value[sink]
						}
						if math.Abs(sum-l.Sum) > 1e-9*math.Abs(sum) {
							b.Errorf("%s: the sinks add up to %v, want %v", l.Library, l.Sum, sum)
						}
					}
				}
			})
		}
	}
}

// runPeers gives the shapes to Node. Libraries of signals recurse, so Node is
// given all the stack that may be had.
func runPeers(b *testing.B) []peerLine {
	type in struct {
		Name  string    `json:"name"`
		Reads [][]int32 `json:"reads"`
		Sinks []int32   `json:"sinks"`
		Edits []any     `json:"edits"`
	}
	var list []in
	for _, s := range shapes() {
		one := in{Name: s.name, Sinks: s.sinks}
		for _, r := range s.reads {
			one.Reads = append(one.Reads, append([]int32{}, r...))
		}
		for _, e := range s.edits {
			one.Edits = append(one.Edits, map[string]any{"name": e.name, "input": e.input, "below": e.below})
		}
		list = append(list, one)
	}
	text, err := json.Marshal(list)
	if err != nil {
		b.Fatal(err)
	}
	node := exec.Command("sh", "-c", "ulimit -s unlimited 2>/dev/null && set -- --stack-size=900000; exec node \"$@\" peers/peers.js")
	node.Stdin = bytes.NewReader(text)
	node.Stderr = os.Stderr
	out, err := node.Output()
	if err != nil {
		b.Fatalf("node: %v", err)
	}
	var lines []peerLine
	for text := range strings.Lines(string(out)) {
		var l peerLine
		if err := json.Unmarshal([]byte(text), &l); err != nil {
			b.Fatalf("%q: %v", text, err)
		}
		lines = append(lines, l)
	}
	return lines
}
