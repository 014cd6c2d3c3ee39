package main

import (
	"encoding/json"
	"os"
	"path/filepath"
	"testing"

	"wintertruss/engine"
	"wintertruss/ui"
)

const fuzzedBook = "# Small\n\nA book.\n\n```settings\nseason : 2026-W33 .. 2027-W32\ncurrency : USD\nas_of : 2027-03-10\n```\n" +
	"```list house\n     | floor ft2\nlong | 2880\n```\n```records picks\ndate       | house | weight lb\n2027-03-01 | long  | 5\n```\n" +
	"```lines\nkilos : 100 kg (90..110) // Kilos\nprice : 4 USD/kg // Price\nincome = kilos * price -> USD // Income\n```\n" +
	"```scenario other \"Other\"\nprice : 5 USD/kg\n```\n```answers\npays : income > 0\n```\n"

// FuzzFromPage: whatever a page sends, it is read or refused, and what an edit in it
// leaves is a book that can be opened. It stands here and not beside the browser's
// tests, whose library makes a binary too large to be fuzzed.
func FuzzFromPage(f *testing.F) {
	files, err := filepath.Glob("../../testdata/wire/from_page_*.json")
	if err != nil || len(files) == 0 {
		f.Fatalf("%d examples: %v", len(files), err)
	}
	for _, file := range files {
		text, err := os.ReadFile(file)
		if err != nil {
			f.Fatal(err)
		}
		f.Add(text)
	}
	f.Add([]byte(`{"type":"edit","id":"1","edit":{"kind":"set_line","name":"income","text":"income = kilos * prise -> USD"}}`))
	f.Add([]byte(`{"type":"edit","id":"1","edit":{"kind":"set_cell","name":"house","member":"long","column":"floor","text":"3000"}}`))
	f.Fuzz(func(t *testing.T, text []byte) {
		var m ui.FromPage
		if json.Unmarshal(text, &m) != nil {
			return
		}
		d, err := engine.Open("small.md", []byte(fuzzedBook), engine.Options{})
		if err != nil {
			t.Fatal(err)
		}
		if doc, _, fault := m.Edit.Apply(d.Book.Doc); fault == nil {
			next, _ := d.Next(doc)
			for _, name := range next.Names() {
				next.Plain(name)
			}
		}
	})
}
