package engine_test

import (
	"context"
	"testing"

	"wintertruss/engine"
	"wintertruss/engine/book"
	"wintertruss/engine/syntax"
	"wintertruss/engine/week"
	"wintertruss/sheets"
)

// BenchmarkFirstHouse measures the way of the first house from text to answers.
func BenchmarkFirstHouse(b *testing.B) {
	text := sheets.FirstHouse
	day := week.Day(20500)
	b.Run("read", func(b *testing.B) {
		for b.Loop() {
			syntax.Read("book.md", text)
		}
	})
	doc := syntax.Read("book.md", text)
	b.Run("assemble", func(b *testing.B) {
		for b.Loop() {
			book.Assemble(doc, day)
		}
	})
	b.Run("open, plain pass included", func(b *testing.B) {
		for b.Loop() {
			if _, err := engine.Open("book.md", text, engine.Options{Today: day}); err != nil {
				b.Fatal(err)
			}
		}
	})
	for _, draws := range []int{1024, 10240} {
		for _, workers := range []int{1, 2} {
			b.Run(map[int]string{1024: "1,024 draws", 10240: "10,240 draws"}[draws]+map[int]string{1: ", one core", 2: ", two cores"}[workers], func(b *testing.B) {
				for b.Loop() {
					b.StopTimer()
					d, err := engine.Open("book.md", text, engine.Options{Today: day, Draws: draws, Workers: workers})
					if err != nil {
						b.Fatal(err)
					}
					b.StartTimer()
					if _, _, err := d.Bands(context.Background(), nil); err != nil {
						b.Fatal(err)
					}
				}
			})
		}
	}
}
