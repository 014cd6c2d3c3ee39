package fact

import (
	"strings"
	"sync"
	"testing"
)

// whole is a figure with nothing missing.
var whole = Fact{Name: "joules in a kilowatt hour", Value: 3.6e6, Unit: "J/kWh", Low: 3.6e6, High: 3.6e6,
	Source: "Bureau International des Poids et Mesures, SI Brochure, 9th edition (2019)", Place: "table 8", Known: Exact}

func TestCheckNamesTheGap(t *testing.T) {
	for _, c := range []struct {
		gap  string
		make func(*Fact)
		says string // "" when the figure is whole
	}{
		{"nothing", func(*Fact) {}, ""},
		{"name", func(f *Fact) { f.Name = "" }, "without a name"},
		{"unit", func(f *Fact) { f.Unit = "" }, "no unit"},
		{"source of something read", func(f *Fact) { f.Known, f.Source = Read, "" }, "no source"},
		{"source of something quoted", func(f *Fact) { f.Known, f.Source = Quoted, "" }, "no source"},
		{"source of something remembered", func(f *Fact) { f.Known, f.Source = Memory, "" }, "no source"},
		{"source of a definition", func(f *Fact) { f.Source = "" }, ""},
		{"source of a habit of the trade", func(f *Fact) { f.Known, f.Source = CommonPractice, "" }, ""},
		{"source of our own choice", func(f *Fact) { f.Known, f.Source = Assumed, "" }, ""},
		{"place of something read", func(f *Fact) { f.Known, f.Place = Read, "" }, "where in its source"},
		{"place of something quoted", func(f *Fact) { f.Known, f.Place = Quoted, "" }, "where in its source"},
		{"place of something remembered", func(f *Fact) { f.Known, f.Place = Memory, "" }, ""},
		{"value below its range", func(f *Fact) { f.Value = 3.5e6 }, "outside"},
		{"value above its range", func(f *Fact) { f.Value = 3.7e6 }, "outside"},
		{"range turned round", func(f *Fact) { f.Low, f.High = 4e6, 3e6 }, "outside"},
		{"value on its low end", func(f *Fact) { f.High = 4e6 }, ""},
		{"how it is known", func(f *Fact) { f.Known = "" }, "how it is known"},
		{"a known way of knowing", func(f *Fact) { f.Known = "hearsay" }, "how it is known"},
	} {
		f := whole
		c.make(&f)
		err := f.Check()
		switch {
		case c.says == "" && err != nil:
			t.Errorf("%s: %v", c.gap, err)
		case c.says != "" && (err == nil || !strings.Contains(err.Error(), c.says)):
			t.Errorf("%s: error %v does not say %q", c.gap, err, c.says)
		}
	}
}

func TestCheckRefusesNotANumber(t *testing.T) {
	zero := 0.0
	f := whole
	f.Value = zero / zero
	if f.Check() == nil {
		t.Error("a figure that is not a number passed")
	}
}

func TestNewRegistersInOrder(t *testing.T) {
	before := len(All())
	first, second := whole, whole
	first.Name, second.Name = "first", "second"
	if got := New(first); got != first {
		t.Errorf("New gave %+v for %+v", got, first)
	}
	New(second)
	got := All()[before:]
	if len(got) != 2 || got[0] != first || got[1] != second {
		t.Errorf("registered: %+v", got)
	}
	got[0].Name = "changed"
	if All()[before] != first {
		t.Error("All lends its own memory")
	}
}

func TestNewRefusesAGap(t *testing.T) {
	before := len(All())
	defer func() {
		if recover() == nil {
			t.Error("New took a figure without a name")
		}
		if len(All()) != before {
			t.Error("New kept a figure that it refused")
		}
	}()
	New(Fact{Value: 1})
}

func TestNewFromManyAtOnce(t *testing.T) {
	before := len(All())
	var all sync.WaitGroup
	for range 50 {
		all.Go(func() { New(whole); All() })
	}
	all.Wait()
	if got := len(All()) - before; got != 50 {
		t.Errorf("%d of 50 registered", got)
	}
}
