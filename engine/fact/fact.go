package fact

import (
	"fmt"
	"sync"
)

// Known says how a figure is known.
type Known string

const (
	Read           Known = "read"            // read in the source's own text or data
	Quoted         Known = "quoted"          // read in another text that quotes the source
	CommonPractice Known = "common practice" // a habit of the trade, no source named
	Memory         Known = "memory"          // remembered; a person must check it before it is relied on
	Assumed        Known = "assumed"         // our own choice, said so
	Exact          Known = "exact"           // true by definition of a unit or a standard
)

// Fact is one figure. Low and High bound it where a range is published or
// honest; both equal Value when it is exact.
type Fact struct {
	Name      string // words a grower reads: "uptake of a mature crop"
	Value     float64
	Unit      string // in the symbols of the language page; "1" for a plain number
	Low, High float64
	Source    string // author, year, title
	Place     string // table, equation, page or file
	Known     Known
}

var (
	mu  sync.Mutex // guards all
	all []Fact
)

// New registers a figure and gives it back. It panics when the figure is
// incomplete: a programmer's mistake, found by any test that loads the package.
func New(f Fact) Fact {
	if err := f.Check(); err != nil {
		panic(err)
	}
	mu.Lock()
	defer mu.Unlock()
	all = append(all, f)
	return f
}

// All gives every registered figure, in the order of registration.
func All() []Fact {
	mu.Lock()
	defer mu.Unlock()
	return append([]Fact(nil), all...)
}

// Check says what is missing or out of order.
func (f Fact) Check() error {
	switch {
	case f.Name == "":
		return fmt.Errorf("fact without a name (value %v)", f.Value)
	case f.Unit == "":
		return fmt.Errorf("fact %q has no unit", f.Name)
	case f.Source == "" && f.Known != CommonPractice && f.Known != Assumed && f.Known != Exact:
		return fmt.Errorf("fact %q has no source", f.Name)
	case f.Place == "" && (f.Known == Read || f.Known == Quoted):
		return fmt.Errorf("fact %q does not say where in its source it stands", f.Name)
	case !(f.Low <= f.Value && f.Value <= f.High):
		return fmt.Errorf("fact %q: %v lies outside %v..%v", f.Name, f.Value, f.Low, f.High)
	}
	switch f.Known {
	case Read, Quoted, CommonPractice, Memory, Assumed, Exact:
		return nil
	}
	return fmt.Errorf("fact %q does not say how it is known", f.Name)
}
