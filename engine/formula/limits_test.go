package formula

import (
	"context"
	"errors"
	"fmt"
	"strings"
	"testing"

	"wintertruss/engine/array"
)

// The line with which a book has too many cells is refused, and what reads it waits.
func TestBookTooLarge(t *testing.T) {
	defer func(was int) { mostPlain = was }(mostPlain)
	mostPlain = 40
	p := Compile(sourceOf(t, `
~~~lines
a over week : 1
b = a * 2
c = b / a + a
d = earlier(d, 0) + c + a -> 1
e = d * 2 + a
f = a + 1
g = earlier(h, 0) + b * 3 -> 1
h = earlier(g, 0) + e -> 1
~~~
`))
	p.Plain()
	check(t, p, `a: 1, 1, 1, 1, 1, 1 over week | b: 2, 2, 2, 2, 2, 2 over week | c: 3, 3, 3, 3, 3, 3 over week |
		d: error: with this line the book would have more than 40 cells | e: error: waits for d |
		f: 2, 2, 2, 2, 2, 2 over week | g: error: waits for h | h: error: waits for e`)
}

// What grows without end becomes a fault, of the weeks from there on and with its
// line named; what goes round and stays within the numbers is left alone.
func TestLoopThatGrows(t *testing.T) {
	p := compiled(t, `
~~~lines
big : 100000000000000
one over each week : 1 (0..2)
square = earlier(square, big) * earlier(square, big) -> 1
stock = earlier(stock, big) * 0.5 + one -> 1
read = square - square
~~~
`)
	check(t, p, `square: 1e+28, 1e+56, 1e+112, too large a number, too large a number, too large a number over week |
		stock: 5e+13, 2.5e+13, 1.25e+13, 6.25e+12, 3.125e+12, 1.5625e+12 over week |
		read: 0, 0, 0, too large a number, too large a number, too large a number over week`)
	line, _, _ := p.Explain(p.Cells(p.named(t, "read"))[5])
	if p.src.Lines[line].Name != "square" {
		t.Errorf("the fault began in %s", p.src.Lines[line].Name)
	}
	guards := 0
	for _, v := range p.vals {
		if v.eop == array.Guard {
			guards++
		}
	}
	if guards != 1 {
		t.Errorf("%d guards, want that of square", guards)
	}
}

// A chain of products leaves the numbers only through a guard.
func TestProductsAreGuarded(t *testing.T) {
	var s strings.Builder
	s.WriteString("~~~lines\nx0 : 1 (0..2)\nbig : 100000000000000\n")
	for i := range 40 {
		fmt.Fprintf(&s, "x%d = x%d * big * big\n", i+1, i)
	}
	s.WriteString("last = x40 * 0\nagain = x39 * big * big\n~~~\n")
	p := compiled(t, s.String())
	lines := []int{p.named(t, "x40"), p.named(t, "last"), p.named(t, "again")}
	d, err := p.Draw(context.Background(), lines, Options{Draws: 5})
	if err != nil {
		t.Fatal(err)
	}
	for _, l := range lines {
		if x := p.Cells(l)[0]; !array.IsFault(x) {
			t.Errorf("%s is %v", p.src.Lines[l].Name, x)
		}
		for _, x := range d.Line(l)[0] {
			if !array.IsFault(x) {
				t.Errorf("%s is %v in a draw", p.src.Lines[l].Name, x)
			}
		}
	}
}

// A run that would need too much scratch takes smaller blocks, then fewer workers,
// and refuses what still does not fit.
func TestDrawsInLittleMemory(t *testing.T) {
	p := compiled(t, risky)
	lines := []int{p.named(t, "blend_all"), p.named(t, "edge")}
	want, err := p.Draw(context.Background(), lines, Options{Draws: 300, Workers: 2})
	if err != nil {
		t.Fatal(err)
	}
	defer func(was int) { mostScratch = was }(mostScratch)
	mostScratch = 16_000
	p.Plain()
	got, err := p.Draw(context.Background(), lines, Options{Draws: 300, Workers: 2})
	if err != nil {
		t.Fatal(err)
	}
	for i, x := range want.Line(lines[0])[0] {
		if got.Line(lines[0])[0][i] != x {
			t.Fatalf("draw %d: %v, want %v", i, got.Line(lines[0])[0][i], x)
		}
	}
	mostScratch = 100
	p.Plain()
	var much *MemoryError
	if _, err := p.Draw(context.Background(), lines, Options{Draws: 300}); !errors.As(err, &much) {
		t.Errorf("got %v", err)
	}
}

// A loop of many lines that read each other against the order of the book: the
// axes travel all the way, and neither that nor anything else takes long.
func TestLongLoop(t *testing.T) {
	const n = 20_000
	var s strings.Builder
	s.WriteString("~~~list bed\n | a\nx | 1\ny | 2\n~~~\n~~~lines\n")
	for i := range n {
		if i == n-1 {
			fmt.Fprintf(&s, "l%d = earlier(l0, 0) + bed.a -> 1\n", i)
		} else {
			fmt.Fprintf(&s, "l%d = earlier(l%d, 1) -> 1\n", i, i+1)
		}
	}
	s.WriteString("~~~\n")
	p := compiled(t, s.String())
	check(t, p, fmt.Sprintf("l0: 1, 1, 1, 1, 1, 1, 1, 1, 1, 1, 1, 1 over bed, week | l%d: 1, 2, 2, 2, 2, 2, 2, 3, 3, 3, 3, 3 over bed, week", n-1))
}
