package formula

import (
	"strconv"

	"wintertruss/engine/array"
	"wintertruss/engine/syntax"
)

// A book is data from anyone: lists that are crossed with each other must end in a
// message and not in all of the machine's memory.

// The most cells that one value may have, and the plain pass together.
const (
	mostCells = 4_000_000
	mostPlain = 64_000_000
)

// bounded refuses the line being lowered when one of its values has too many
// cells; until then only the numbers of their axes were multiplied.
func (b *builder) bounded(tree syntax.Expr) *syntax.Error {
	n := b.excess
	if b.excess = 0; n == 0 {
		return nil
	}
	return b.fault(tree, msgTooLarge, inWords(n), inWords(mostCells))
}

// inBounds refuses axes that have too many cells together.
func (b *builder) inBounds(tree syntax.Expr, axes array.Axes) *syntax.Error {
	if n := b.src.Space.Size(axes); n > mostCells {
		return b.fault(tree, msgTooLarge, inWords(n), inWords(mostCells))
	}
	return nil
}

// count refuses the lines with which the plain pass would have too many cells,
// in the order in which lines are computed; what reads one of them waits for it.
func (b *builder) count(groups [][]nodeKey) {
	in, cells, refused := make([]bool, len(b.p.vals)), 0, false
	for _, g := range groups {
		for _, k := range g {
			n := b.nodes[k]
			if n.err != nil || k != b.main(k.line) {
				continue
			}
			reached := b.p.mark(in, []int32{n.id}, everything)
			more := 0
			for _, i := range reached {
				more += b.p.size(i)
			}
			if cells+more <= mostPlain {
				cells += more
				continue
			}
			for _, i := range reached {
				in[i] = false
			}
			b.at, b.formula = k, b.src.Lines[k.line].Formula
			n.err = b.fault(nil, msgBookTooLarge, inWords(mostPlain))
			refused = true
		}
	}
	if refused {
		b.passOn(groups)
	}
}

// passOn lets every line wait that reads a line which was refused after all.
func (b *builder) passOn(groups [][]nodeKey) {
	for _, g := range groups {
		in := map[nodeKey]bool{}
		for _, k := range g {
			in[k] = len(g) > 1
		}
		for _, k := range g {
			n := b.nodes[k]
			if n.err == nil {
				n.err = b.waiting(k, in)
			}
			if n.err != nil && len(g) > 1 {
				b.fail(g, k, n.err)
				break
			}
		}
	}
}

// size is the number of cells of a value.
func (p *Program) size(id int32) int {
	if p.vals[id].op == vCall {
		return 0
	}
	return p.src.Space.Size(p.vals[id].axes)
}

func everything(*value) bool { return true }

// inWords writes a number of cells with marks between thousands.
func inWords(n int) string {
	if n >= array.Uncounted {
		return "more than a million million"
	}
	s := strconv.Itoa(n)
	for i := len(s) - 3; i > 0; i -= 3 {
		s = s[:i] + "," + s[i:]
	}
	return s
}
