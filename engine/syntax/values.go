package syntax

// ParseValues reads the right side of an input: a literal, a schedule
// ("62; 64 from 2027-W09"), or a list ("33, 36, 45 degF"). at is the place of the
// first character of text.
//
// A unit after the last value of a list stands on each of them, and a later value
// of a schedule without a unit gets the first one's.
func ParseValues(text string, at Place) (*Values, *Error) {
	return readValues(newSource(text, at.Line, at.Col).all())
}

func readValues(c cut) (*Values, *Error) {
	c = c.trim()
	pieces := c.splitTop(';')
	if len(pieces) > 1 || hasFrom(c) {
		return readSchedule(pieces)
	}
	members := c.splitTop(',')
	if len(members) > 1 {
		return readList(members)
	}
	l, e := readLiteral(c)
	if e != nil {
		return nil, e
	}
	return single(l), nil
}

// single is one literal, in one piece of memory: a large book is mostly these.
func single(l Literal) *Values {
	s := new(struct {
		Values
		piece [1]Piece
	})
	s.piece[0].Literal = l
	s.Pieces = s.piece[:]
	return &s.Values
}

// hasFrom says whether the word from stands outside quotes.
func hasFrom(c cut) bool {
	_, _, ok := cutFrom(c)
	return ok
}

// cutFrom parts "64 from 2027-W09".
func cutFrom(c cut) (value, week cut, ok bool) {
	s := c.String()
	start := 0
	for {
		i, _ := c.findFrom(start, true, "from")
		if i < 0 {
			return c, c, false
		}
		before := i == 0 || isBlankByte(s[i-1])
		after := i+4 == len(s) || isBlankByte(s[i+4])
		if before && after {
			return c.part(0, i).trim(), c.after(i + 4).trim(), true
		}
		start = i + 4
	}
}

func readSchedule(pieces []cut) (*Values, *Error) {
	v := &Values{}
	last := ""
	for i, piece := range pieces {
		value, week, dated := cutFrom(piece)
		switch {
		case i == 0 && dated:
			return nil, scheduleFirst.at(piece.place())
		case i > 0 && !dated && !piece.empty():
			return nil, scheduleFrom.at(piece.place())
		}
		l, e := readLiteral(value)
		if e != nil {
			return nil, e
		}
		p := Piece{Literal: l}
		if i > 0 {
			w := week.String()
			if !isWeek(w) {
				return nil, badDate.at(week.place(), w)
			}
			if w <= last {
				return nil, scheduleOrder.at(week.place(), w, last)
			}
			last = w
			p.From = week.word()
			first := &v.Pieces[0].Literal
			if !sameSort(l.Kind, first.Kind) {
				return nil, scheduleKinds.at(l.Place, l.Text, first.Text)
			}
			if isNumeric(l.Kind) && l.Unit.Text == "" {
				p.Literal.Unit = first.Unit
			}
		}
		v.Pieces = append(v.Pieces, p)
	}
	return v, nil
}

func isNumeric(k LiteralKind) bool { return k <= LikelyForm }

func sameSort(a, b LiteralKind) bool {
	number := func(k LiteralKind) bool { return k <= ChanceForm }
	return a == b || number(a) && number(b)
}

// readList reads one number a member; their unit stands after the last.
func readList(members []cut) (*Values, *Error) {
	v := &Values{Each: make([]Literal, 0, len(members))}
	for _, m := range members {
		l, e := readLiteral(m)
		if e != nil {
			return nil, e
		}
		if l.Kind != PlainNumber || l.HasRange || l.Open {
			return nil, listNumbers.at(l.Place, l.Text)
		}
		v.Each = append(v.Each, l)
	}
	unit := v.Each[len(v.Each)-1].Unit
	for i := range v.Each {
		own := v.Each[i].Unit
		if own.Text != "" && own.Text != unit.Text {
			if unit.Text == "" {
				return nil, listUnits.at(own.Place, own.Text, "none")
			}
			return nil, listUnits.at(own.Place, own.Text, unit.Text)
		}
		v.Each[i].Unit = unit
	}
	return v, nil
}
