package formula

import (
	"math"

	"wintertruss/engine/array"
	"wintertruss/engine/syntax"
)

// valueOp says how a value comes about.
type valueOp uint8

const (
	vConst   valueOp = iota // imm, in every cell
	vInput                  // a table of the program (aux)
	vElement                // a kernel of package array (eop) over a, b, c cell by cell
	vEarlier                // a, aux weeks earlier; before the season's first weeks, b
	vReduce                 // a, over the axes in over, by reducer aux
	vPick                   // a, at cell aux of the axis in over
	vVia                    // b at the member that a names, along axis aux
	vGroup                  // b added up by the member that a names; aux is the axis of the members
	vCall                   // a call of a kernel (aux); has no cells of its own
	vOutput                 // output aux of call a
	vOdds                   // share of draws in which a holds, in per cent of 1
	vEdge                   // a quantile (imm) of a over its draws
)

// value is one step of the program. Each is computed once; equal steps are one.
type value struct {
	op      valueOp
	eop     array.Op
	a, b, c int32 // values it is made of; -1 when none
	aux     int32
	axes    array.Axes
	over    array.Axes // vReduce, vPick: the axes that go
	imm     float64
	loop    int32 // the week loop it stands in, -1 when none
	site    int32 // where a fault of it began
	draws   bool  // differs from draw to draw
	blank   bool  // a cell can be blank
	fault   bool  // a cell can be a fault
	stage   int32 // after how many runs of draws its plain cells are known
	careful bool  // a kernel that must tell one from the other, see array.Op.Repair
}

func (v *value) args() [3]int32 { return [3]int32{v.a, v.b, v.c} }

// table holds the cells of an input.
type table struct {
	axes    array.Axes
	plain   []float64
	sampler Sampler
	size    float64   // bounds the cells, see size.go
	drawn   []float64 // cells x draws, once they are made
}

// call is one call of a kernel.
type call struct {
	fn     *Function
	list   int // axis of the list argument, -1 when none
	args   []callArg
	cols   []callArg
	texts  []string
	outer  array.Axes
	outs   []callOut
	rows   *Rows
	member int
	site   int32
}

type callArg struct {
	id    int32 // -1: the parameter's default or text
	imm   float64
	whole array.Axes
	cells []int32 // cell of each number the kernel gets, from the outer cell on
}

type callOut struct {
	whole array.Axes
	cells []int32
	id    int32 // value that holds it, -1 when nobody asked
}

// Program is a checked book, ready to run: one row of values for all its lines.
type Program struct {
	src    *Source
	vals   []value
	tables []table
	calls  []*call
	line   []int32 // each line's value under the chosen scenario, -1 when it is in error
	types  []Type
	// Errors holds what is wrong, by line index.
	Errors map[int]*syntax.Error
	// Others holds what is wrong with overrides of scenarios, wherever they are used.
	Others []*syntax.Error
	sites  []site
	uses   map[int][]use // by line: its calls of functions with measured ranges

	plain    []float64 // cells of every value, every input at its middle
	offset   []int     // value -> its first cell in plain
	live     []bool    // values that some line is made of
	filled   int       // with how many draws odds and edges were worked out; 0: not yet
	refusals []refusal // what models said in the plain pass, each once
	refused  map[refusal]int32

	inputOf map[*Input]int32  // inputs of the source -> their values
	loopOf  map[int32][]int32 // see loops
	workers map[int32]*worker // see nodeWorker
	lines   map[int32][]int   // see linesOf
	odds    []int32           // see ofDraws
	was     []float64         // room of Recompute
	turn    []int32           // while a plan is made: a value's place among those that run, from 1
}

// refusal is what a model said at a site.
type refusal struct {
	site int32
	why  string
}

// mostRefusals bounds what is kept of the sayings of models: one may put a number in.
const mostRefusals = 1000

// refuse gives the number of a site for what a model said there.
func (p *Program) refuse(r refusal) int {
	i, ok := p.refused[r]
	if !ok {
		if len(p.refusals) == mostRefusals {
			return int(r.site)
		}
		i = int32(len(p.refusals))
		p.refused[r], p.refusals = i, append(p.refusals, r)
	}
	return len(p.sites) + int(i)
}

// site is a place where a fault can begin.
type site struct {
	line  int
	place syntax.Place
	what  string // the function or sign
}

// LineType gives what is known of a line before anything runs.
func (p *Program) LineType(i int) Type { return p.types[i] }

// OK says whether line i can be computed.
func (p *Program) OK(i int) bool { return p.line[i] >= 0 }

// Drawn says whether line i differs from draw to draw.
func (p *Program) Drawn(i int) bool { return p.line[i] >= 0 && p.vals[p.line[i]].draws }

// Values is how many values the program has (for measuring).
func (p *Program) Values() int { return len(p.vals) }

// Explain says in words why a cell could not be computed, and the line in which it began.
func (p *Program) Explain(cell float64) (line int, place syntax.Place, message string) {
	code, n := array.FaultOf(cell)
	message = faultText[code]
	why := ""
	if n >= len(p.sites) {
		r := p.refusals[n-len(p.sites)]
		n, why = int(r.site), r.why
	}
	s := p.sites[n]
	if why != "" {
		message = s.what + ": " + why
	}
	return s.line, s.place, message
}

// key is what makes two values equal.
type key struct {
	v   value
	imm uint64
}

func keyOf(v value) key {
	k := key{v: v, imm: math.Float64bits(v.imm)} // by bits: 0 and -0 are different constants
	k.v.imm, k.v.site = 0, 0
	return k
}
