package formula

// Reaching gives those of the lines `of` whose draws reach the draws of a line: what it
// is made of, directly or through others. A line is not made of itself.
func (p *Program) Reaching(line int, of []int) []int {
	if !p.Drawn(line) {
		return nil
	}
	in := p.closure([]int32{p.line[line]}, func(v *value) bool { return v.draws })
	var out []int
	for _, l := range of {
		if l != line && p.Drawn(l) && in[p.line[l]] {
			out = append(out, l)
		}
	}
	return out
}
