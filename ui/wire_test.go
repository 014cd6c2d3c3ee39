package ui

import (
	"bytes"
	"encoding/json"
	"os"
	"path/filepath"
	"reflect"
	"strings"
	"testing"

	"wintertruss/engine"
)

const fixtures = "../testdata/wire"

// TestFixtures: the examples of messages, which the page's code is written against,
// are what this server's messages say: every field is known, and what is read and
// written again says the same.
func TestFixtures(t *testing.T) {
	files, err := filepath.Glob(fixtures + "/*_page_*.json")
	if err != nil || len(files) < 12 {
		t.Fatalf("%d examples: %v", len(files), err)
	}
	seen := map[string]bool{}
	for _, file := range files {
		text, err := os.ReadFile(file)
		if err != nil {
			t.Fatal(err)
		}
		var m any = &ToPage{}
		if strings.Contains(filepath.Base(file), "from_page") {
			m = &FromPage{}
		}
		d := json.NewDecoder(bytes.NewReader(text))
		d.DisallowUnknownFields()
		if err := d.Decode(m); err != nil {
			t.Errorf("%s: %v", file, err)
			continue
		}
		again, err := json.Marshal(m)
		if err != nil {
			t.Fatal(err)
		}
		var a, b any
		if json.Unmarshal(text, &a) != nil || json.Unmarshal(again, &b) != nil || !reflect.DeepEqual(dropEmpty(a), dropEmpty(b)) {
			t.Errorf("%s does not say the same when written again", file)
		}
		if to, ok := m.(*ToPage); ok {
			seen[to.Type] = true
		} else {
			seen[m.(*FromPage).Type] = true
		}
	}
	for _, kind := range []string{"hello", "edit", "undo", "snapshot", "resumed", "change", "bands", "ack", "refused", "why", "elsewhere"} {
		if !seen[kind] {
			t.Errorf("there is no example of %s", kind)
		}
	}
}

// dropEmpty leaves out fields that say nothing, which may be written or not.
func dropEmpty(x any) any {
	switch x := x.(type) {
	case map[string]any:
		out := map[string]any{}
		for k, v := range x {
			if v = dropEmpty(v); v != nil && v != "" && v != false && v != 0.0 {
				out[k] = v
			}
		}
		if len(out) == 0 {
			return nil
		}
		return out
	case []any:
		var out []any
		for _, v := range x {
			out = append(out, dropEmpty(v))
		}
		if len(out) == 0 {
			return nil
		}
		return out
	}
	return x
}

// TestFigures: numbers are written as the page writes them.
func TestFigures(t *testing.T) {
	text, err := os.ReadFile(fixtures + "/figures.json")
	if err != nil {
		t.Fatal(err)
	}
	var figures []struct {
		X          float64
		Unit, Text string
	}
	if err := json.Unmarshal(text, &figures); err != nil || len(figures) < 20 {
		t.Fatalf("%d figures: %v", len(figures), err)
	}
	for _, f := range figures {
		if got := engine.Show(f.X, f.Unit); got != f.Text {
			t.Errorf("%v %s is %q, want %q", f.X, f.Unit, got, f.Text)
		}
	}
}
