package formula

// MadeOf gives what the plain cells of lines are made of, however far back: a
// function that says of any line whether it is among them. Lines in error are not.
func (p *Program) MadeOf(lines ...int) func(line int) bool {
	var from []int32
	for _, i := range lines {
		if p.line[i] >= 0 {
			from = append(from, p.line[i])
		}
	}
	in := p.closure(from, everything)
	return func(line int) bool {
		if input := p.src.Lines[line].Input; input != nil { // an override may stand over it
			if id, used := p.inputOf[input]; used && in[id] {
				return true
			}
		}
		return p.line[line] >= 0 && in[p.line[line]]
	}
}
