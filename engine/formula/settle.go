package formula

import "wintertruss/engine/array"

// fuse makes one step of a product and the sum or difference that alone uses it.
func (p *Program) fuse() {
	uses := make([]int32, len(p.vals))
	for i := range p.vals {
		p.reads(int32(i), func(a int32) { uses[a]++ })
	}
	for _, l := range p.line {
		if l >= 0 {
			uses[l]++
		}
	}
	for i := range p.vals {
		v := &p.vals[i]
		if v.op != vElement || (v.eop != array.Add && v.eop != array.Sub) {
			continue
		}
		product := func(j int32) bool {
			x := &p.vals[j]
			return x.op == vElement && x.eop == array.Mul && uses[j] == 1 && x.loop == v.loop && x.axes == v.axes
		}
		fuse := func(product, other int32, op array.Op) {
			x := &p.vals[product]
			v.a, v.b, v.c, v.eop = x.a, x.b, other, op
		}
		switch {
		case v.eop == array.Sub && product(v.a):
			fuse(v.a, v.b, array.MulSub)
		case v.eop == array.Sub && product(v.b):
			fuse(v.b, v.a, array.SubMul)
		case v.eop == array.Add && product(v.a):
			fuse(v.a, v.b, array.MulAdd)
		case v.eop == array.Add && product(v.b):
			fuse(v.b, v.a, array.MulAdd)
		}
	}
}

// settle works out what is known of every value before anything runs: whether it
// differs from draw to draw, whether its cells can hold nothing, and after how
// many runs of draws it is known. It gives every value its cells.
func (p *Program) settle() {
	p.goRound(func(i int32, v *value) bool {
		was := v.draws
		switch v.op {
		case vInput:
			v.draws = p.tables[v.aux].sampler != nil
		case vOdds, vEdge:
		default:
			p.reads(i, func(a int32) { v.draws = v.draws || p.vals[a].draws })
		}
		return v.draws != was
	})
	for i := range p.vals { // what is the same in every draw is its own odds and edges
		if v := &p.vals[i]; (v.op == vOdds || v.op == vEdge) && !p.vals[v.a].draws {
			v.op, v.eop = vElement, array.Copy
		}
	}
	p.goRound(func(i int32, v *value) bool {
		blank, fault, stage := v.blank, v.fault, v.stage
		p.nothing(i, v)
		p.reads(i, func(a int32) { v.stage = max(v.stage, p.vals[a].stage) })
		if v.op == vOdds || v.op == vEdge {
			v.stage = p.vals[v.a].stage + 1
		}
		return v.blank != blank || v.fault != fault || v.stage != stage
	})
	n := 0
	p.live = p.closure(p.roots(), everything)
	p.offset = make([]int, len(p.vals))
	for i, live := range p.live {
		p.offset[i] = n
		if live {
			n += p.size(int32(i))
		}
	}
	p.plain = make([]float64, n)
	p.turn = make([]int32, len(p.vals))
}

// goRound calls f for every value, each after those it is made of, and again
// while f changes a value in a loop, where one is made of what comes later.
func (p *Program) goRound(f func(i int32, v *value) bool) {
	for again := true; again; {
		again = false
		for i := range p.vals {
			v := &p.vals[i]
			if f(int32(i), v) && v.loop >= 0 {
				again = true
			}
		}
	}
}

// nothing works out whether a value can be blank, and whether it can be a fault.
func (p *Program) nothing(i int32, v *value) {
	var blanks, faults []int32
	p.reads(i, func(a int32) {
		if p.vals[a].blank {
			blanks = append(blanks, a)
		}
		if p.vals[a].fault {
			faults = append(faults, a)
		}
	})
	v.blank, v.fault = v.blank || len(blanks) > 0, v.fault || len(faults) > 0
	switch v.op {
	case vConst:
		v.blank, v.fault = array.IsBlank(v.imm), array.IsFault(v.imm)
	case vInput:
		for _, x := range p.tables[v.aux].plain {
			v.blank = v.blank || x != x
		}
	case vCall, vOutput:
		v.blank, v.fault = true, true
	case vOdds, vEdge:
		v.blank = true
	case vEarlier:
		v.fault = v.fault || v.eop == array.Guard
	case vReduce:
		v.blank = v.blank || p.src.Space.Size(v.over) == 0
	case vElement:
		switch v.eop {
		case array.Div:
			v.blank, v.fault = true, true
		case array.Guard, array.Root, array.Exp, array.Log, array.Power, array.StepNear, array.StepUp, array.StepDown:
			v.fault = true
		case array.Known:
			v.blank = false
		case array.Add, array.Sub, array.Mul, array.DivSure, array.MulAdd, array.MulSub, array.SubMul:
			v.careful = len(blanks) > 0 && len(faults) > 0 && (len(blanks) > 1 || len(faults) > 1 || blanks[0] != faults[0])
		}
	}
}
