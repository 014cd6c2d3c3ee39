// Package sheets holds the starter books as text. They are invented, and say so.
package sheets

import (
	"embed"
	"strings"
)

// Starter is the book that is shown when none is named.
const Starter = "tern_hollow"

// FirstHouse is one winter of one house: tomatoes in coir bags, recorded to March.
//
//go:embed first_house.md
var FirstHouse []byte

//go:embed *.md
var books embed.FS

// Book gives a starter book by its name, with or without the ending.
func Book(name string) (file string, text []byte, ok bool) {
	file = strings.TrimSuffix(name, ".md") + ".md"
	text, err := books.ReadFile(file)
	return file, text, err == nil
}
