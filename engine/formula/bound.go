package formula

import (
	"strconv"

	"wintertruss/engine/array"
	"wintertruss/engine/syntax"
)

// A book is data from anyone: lists that are crossed with each other must end in a
// message and not in all of the machine's memory.

// mostCells is the most cells that one value may have.
const mostCells = 4_000_000

// mostPlain is the most that the plain pass may have together; a variable only for
// the test of its message.
var mostPlain = 64_000_000

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
		if refused {
			b.passOn(g)
		}
		for _, k := range g {
			n := b.nodes.at(k)
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
			err := b.fault(nil, msgBookTooLarge, inWords(mostPlain))
			b.fail(g, k, err) // a loop falls as a whole
			refused = true
		}
	}
}

// passOn lets a line wait that reads one which was refused after all; of a loop, all.
func (b *builder) passOn(g []nodeKey) {
	in := map[nodeKey]bool{}
	for _, k := range g {
		in[k] = len(g) > 1
	}
	for _, k := range g {
		if n := b.nodes.at(k); n.err == nil {
			if err := b.waiting(k, in); err != nil {
				b.fail(g, k, err)
				return
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
