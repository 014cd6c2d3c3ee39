// Package sheets holds the starter books as text. They are invented, and say so.
package sheets

import _ "embed"

// Starter is the book that is shown when none is named.
const Starter = "first_house.md"

// FirstHouse is one winter of one house: tomatoes in coir bags, recorded to March.
//
//go:embed first_house.md
var FirstHouse []byte
