package formula

import (
	"context"
	"fmt"
	"runtime"
	"sync"
	"sync/atomic"

	"wintertruss/engine/array"
)

// Plain runs the plain pass: every input at its middle, every line. What hangs on
// odds or a band's edge is blank until Draw has run.
func (p *Program) Plain() {
	p.filled = 0
	for i, live := range p.live {
		if !live {
			continue
		}
		v, cells := &p.vals[i], p.cells(int32(i))
		switch v.op {
		case vConst:
			cells[0] = v.imm
		case vInput:
			copy(cells, p.tables[v.aux].plain)
		case vOdds, vEdge:
			for j := range cells {
				cells[j] = array.Blank
			}
		}
	}
	newWorker(p.plainPlan(-1), 1).run(0, 1)
}

// roots gives the values of all lines.
func (p *Program) roots() []int32 {
	var roots []int32
	for _, l := range p.line {
		if l >= 0 {
			roots = append(roots, l)
		}
	}
	return roots
}

// cells gives the plain cells of a live value.
func (p *Program) cells(id int32) []float64 {
	return p.plain[p.offset[id] : p.offset[id]+p.size(id)]
}

// Cells gives the plain cells of a line that is OK, over the axes of its type.
func (p *Program) Cells(line int) []float64 { return p.cells(p.line[line]) }

// NeedsDraws says whether the plain cells of a line hang on odds or a band's edge,
// so that they are known only after Draw.
func (p *Program) NeedsDraws(line int) bool {
	return p.line[line] >= 0 && p.vals[p.line[line]].stage > 0
}

// Options say how draws are run. The results do not depend on Block and Workers.
type Options struct {
	Draws   int // 0: those of the Source
	Block   int // draws that go through all lines together; 0: as many as run best
	Workers int // 0: one for each processor
}

// The most memory that a run of draws may take, in bytes; variables only for the
// tests of what happens beyond.
var (
	mostScratch = 512 << 20 // over all workers
	mostDrawn   = 4 << 30   // the inputs' draws and those of the lines asked for
)

// MemoryError says that a run of draws would need more memory than it may have.
type MemoryError struct{ Need, Most int } // bytes

func (e *MemoryError) Error() string {
	return fmt.Sprintf("the draws would need %d MB, and %d MB is the most: ask for fewer draws or lines", (e.Need+1<<20-1)>>20, e.Most>>20)
}

// Drawn holds the draws of lines.
type Drawn struct{ lines map[int][][]float64 }

// Line gives a row of draws for each cell of a line, over the axes of its type; nil
// when the line is the same in every draw, is in error, or was not asked for. The
// rows are not to be changed.
func (d *Drawn) Line(line int) [][]float64 { return d.lines[line] }

// Draw runs draws number 0 .. Draws-1 and gives those of the lines. The first time
// after Plain, or with another number of draws, it also fills the plain cells of all
// that hangs on odds or edges, of whatever line.
//
// Odds of something that hangs on odds need runs one after another; value.stage
// counts them. What hangs on no odds is drawn in the first run and only there,
// unless something that does is made of it.
//
// It fails when ctx ends, and with *MemoryError. One goroutine at a time may call it.
func (p *Program) Draw(ctx context.Context, lines []int, o Options) (*Drawn, error) {
	if o.Draws <= 0 {
		o.Draws = max(1, p.src.Draws)
	}
	if o.Workers <= 0 {
		o.Workers = runtime.GOMAXPROCS(0)
	}
	out := &Drawn{lines: map[int][][]float64{}}
	var odds []int32
	last := int32(0) // the last stage that has anything to draw
	if p.filled != o.Draws {
		for i, live := range p.live {
			if v := &p.vals[i]; live && (v.op == vOdds || v.op == vEdge) {
				odds = append(odds, int32(i))
				last = max(last, v.stage-1)
			}
		}
		for _, l := range lines {
			if p.Drawn(l) {
				last = max(last, p.vals[p.line[l]].stage)
			}
		}
	}
	for stage := int32(0); stage <= last; stage++ {
		var wanted []int32
		for _, l := range lines {
			if p.Drawn(l) && (p.filled == o.Draws || p.vals[p.line[l]].stage == stage) {
				wanted = append(wanted, p.line[l])
			}
		}
		var fill []int32
		for _, i := range odds {
			if p.vals[i].stage == stage+1 {
				fill = append(fill, i)
				wanted = append(wanted, p.vals[i].a)
			}
		}
		rows, err := p.run(ctx, wanted, o)
		if err != nil {
			return nil, err
		}
		for _, l := range lines {
			if r, ok := rows[p.line[l]]; ok && p.Drawn(l) {
				out.lines[l] = r
			}
		}
		for _, i := range fill {
			p.fill(i, rows[p.vals[i].a])
		}
		if len(fill) > 0 {
			newWorker(p.plainPlan(stage+1), 1).run(0, 1)
		}
	}
	p.filled = o.Draws
	return out, nil
}

// fill works out odds and edges from draws.
func (p *Program) fill(id int32, rows [][]float64) {
	v := &p.vals[id]
	known := make([]float64, 0, len(rows[0]))
	for c, row := range rows {
		known = known[:0]
		hold := 0
		for _, x := range row {
			if x == x {
				known = append(known, x)
				hold += int(array.Truth(x != 0))
			}
		}
		switch {
		case len(known) == 0:
			p.cells(id)[c] = array.Blank
		case v.op == vOdds:
			p.cells(id)[c] = float64(hold) / float64(len(known))
		default:
			p.cells(id)[c] = p.src.Quantile(known, v.imm)
		}
	}
}

// run gives the draws of values, a row for each of their cells.
func (p *Program) run(ctx context.Context, wanted []int32, o Options) (map[int32][][]float64, error) {
	pl := p.drawPlan(wanted)
	pl.stride = apart(o.Draws)
	inputs := p.inputs(wanted)
	cells := map[int32]int{} // of what has to be computed
	need := 0
	for _, id := range wanted {
		if p.vals[id].op != vInput {
			cells[id] = p.size(id)
		}
	}
	for _, n := range cells {
		need += 8 * n * pl.stride
	}
	for _, t := range inputs {
		need += 8 * len(t.plain) * pl.stride
	}
	if need > mostDrawn {
		return nil, &MemoryError{need, mostDrawn}
	}
	block := min(o.Block, o.Draws)
	if block <= 0 {
		block = goodBlock(o.Draws, o.Workers, int(pl.rows))
	}
	workers := min(o.Workers, (o.Draws+block-1)/block)
	for 8*int(pl.rows)*apart(block)*workers > mostScratch {
		switch {
		case block > 16:
			block /= 2
		case workers > 1:
			workers--
		default:
			return nil, &MemoryError{8 * int(pl.rows) * apart(block), mostScratch}
		}
	}
	if err := p.sample(ctx, inputs, pl.stride, o.Workers); err != nil {
		return nil, err
	}
	for i := range p.tables {
		pl.data[i] = p.tables[i].drawn
	}
	flat := map[int32][]float64{}
	for id, n := range cells {
		flat[id] = make([]float64, n*pl.stride)
		if at := pl.out[id]; at >= 0 {
			pl.data[at] = flat[id]
		}
	}
	var next atomic.Int64
	var group sync.WaitGroup
	for range workers {
		group.Go(func() {
			k := newWorker(pl, block)
			k.ctx = ctx
			for ctx.Err() == nil {
				from := int(next.Add(int64(block))) - block
				if from >= o.Draws {
					return
				}
				k.run(from, min(block, o.Draws-from))
				for id, n := range cells {
					for c := 0; c < n && pl.out[id] < 0; c++ {
						copy(flat[id][c*pl.stride+from:], k.cell(id, c).V)
					}
				}
			}
		})
	}
	group.Wait()
	if err := ctx.Err(); err != nil {
		return nil, err
	}
	rows := map[int32][][]float64{}
	for _, id := range wanted {
		all := flat[id]
		if v := &p.vals[id]; v.op == vInput {
			all = p.tables[v.aux].drawn
		}
		rows[id] = make([][]float64, p.size(id))
		for c := range rows[id] {
			rows[id][c] = all[c*pl.stride : c*pl.stride+o.Draws : c*pl.stride+o.Draws]
		}
	}
	return rows, nil
}

// goodBlock gives how many draws go together when nobody says. A step over a row
// costs something by itself, so rows are long; but the rows in use should stay in the
// processor's own memory, and every worker should have a few blocks, so that all end
// at about the same time. Measured with the benchmark of 10,000 draws: 64 draws take
// twice the time of 512, and 1,024 no less than those.
func goodBlock(draws, workers, rows int) int {
	const most, least, bytes = 512, 64, 16 << 20
	block := most
	for block > least && (8*rows*block > bytes || 2*workers*block > draws) {
		block /= 2
	}
	return min(block, draws)
}

// inputs gives the drawn inputs that values are made of.
func (p *Program) inputs(wanted []int32) []*table {
	var list []*table
	for i, need := range p.closure(wanted, func(v *value) bool { return v.draws }) {
		if v := &p.vals[i]; need && v.op == vInput {
			list = append(list, &p.tables[v.aux])
		}
	}
	return list
}

// sample makes n draws of each input that has none, or another number of them. Rows
// stand as far apart as they are long: n is a little more than anyone reads.
func (p *Program) sample(ctx context.Context, inputs []*table, n, workers int) error {
	var next atomic.Int64
	var group sync.WaitGroup
	for range workers {
		group.Go(func() {
			for ctx.Err() == nil {
				i := int(next.Add(1)) - 1
				if i >= len(inputs) {
					return
				}
				if t := inputs[i]; len(t.drawn) != len(t.plain)*n {
					t.drawn = make([]float64, len(t.plain)*n)
					t.sampler.Sample(0, n, t.drawn)
				}
			}
		})
	}
	group.Wait()
	return ctx.Err()
}
