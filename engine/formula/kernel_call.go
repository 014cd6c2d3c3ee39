package formula

import (
	"fmt"
	"strings"

	"wintertruss/engine/array"
	"wintertruss/engine/syntax"
	"wintertruss/engine/unit"
)

// viaColumn reads "via crop" of a parameter's Whole.
func viaColumn(whole string) (column string, ok bool) { return strings.CutPrefix(whole, "via ") }

// kernelArgs is what kernelCall gathers while it reads the arguments.
type kernelArgs struct {
	fn      *Function
	call    *call
	units   map[string]*unit.Unit // parameter -> unit it came in, for "like"
	records int                   // axis of the records whose columns are given, -1
	given   []array.Axes          // axes of each argument
	came    []came                // units of each argument
}

// kernelCall checks the arguments of a function that brings a kernel and lowers
// the call. Functions that share a kernel share the call when their arguments are equal.
func (b *builder) kernelCall(n *syntax.Call, fn *Function) (operand, *syntax.Error) {
	least := 0
	for _, p := range fn.Params {
		if !p.Optional {
			least++
		}
	}
	if len(n.Args) < least || len(n.Args) > len(fn.Params) {
		return operand{}, b.fault(n, msgArity, fn.Name, argsInWords(fn), len(n.Args), fn.Name+signature(fn))
	}
	k := &kernelArgs{fn: fn, call: &call{fn: fn, list: -1, texts: make([]string, len(fn.Params))}, units: map[string]*unit.Unit{}, records: -1,
		came: make([]came, len(fn.Params))}
	for i := range fn.Params {
		if i < len(n.Args) {
			if err := b.kernelArg(k, n, i); err != nil {
				return operand{}, err
			}
			continue
		}
		p := &fn.Params[i]
		k.units[p.Name] = b.one
		if p.Unit != "" && !strings.HasPrefix(p.Unit, "like ") {
			k.units[p.Name] = b.parseUnit(p.Unit)
		}
		k.call.args = append(k.call.args, callArg{id: -1, imm: p.Default})
		k.given = append(k.given, 0)
	}
	if err := b.kernelColumns(k, n); err != nil {
		return operand{}, err
	}
	return b.kernelResult(k, n)
}

// kernelArg reads one argument.
func (b *builder) kernelArg(k *kernelArgs, n *syntax.Call, i int) *syntax.Error {
	p, arg := &k.fn.Params[i], n.Args[i]
	switch p.Takes {
	case ListName:
		name, ok := arg.(*syntax.Name)
		li, isList := -1, false
		if ok {
			li, isList = b.listOf[name.Base]
		}
		if !isList || name.Column != "" {
			return b.fault(arg, msgArgList, k.fn.Name, p.Name)
		}
		k.call.list = b.src.Lists[li].Axis
		k.call.args = append(k.call.args, callArg{id: -1})
		k.given = append(k.given, 0)
		return nil
	case QuotedWords:
		t, ok := arg.(*syntax.Text)
		if !ok {
			return b.fault(arg, msgArgText, k.fn.Name, p.Name, p.Says)
		}
		k.call.texts[i] = t.Value
		k.call.args = append(k.call.args, callArg{id: -1})
		k.given = append(k.given, 0)
		return nil
	}
	o, err := b.expr(arg)
	if err != nil {
		return err
	}
	if o.Kind != p.Takes {
		return b.fault(arg, msgArgKind, k.fn.Name, p.Name, Type{Kind: p.Takes, Unit: b.one, Zero: false}.wants(), o.says())
	}
	if o.Kind == Words && o.List >= 0 {
		// A member would come as its place in the list, and be read as the word of another.
		return b.fault(arg, msgArgMember, k.fn.Name, p.Name, b.src.Space.Axes[o.List].Name)
	}
	id := o.id
	if p.Takes == Quantity {
		want := o.Unit
		if like, ok := strings.CutPrefix(p.Unit, "like "); ok {
			want = k.units[like]
		} else if p.Unit != "" {
			want = b.parseUnit(p.Unit)
		}
		if !(o.Zero && !want.Absolute) && (o.Unit.Dim != want.Dim || o.Unit.Absolute != want.Absolute) {
			return b.fault(arg, msgArgUnit, k.fn.Name, p.Name, want.String(), o.says())
		}
		if o.Zero && p.Unit == "" {
			want = b.one
		}
		k.units[p.Name] = want
		k.came[i] = came{o.Unit, want}
		if o.Zero {
			k.came[i].in = want
		}
		id = b.convert(o, want)
	}
	for _, w := range p.Whole {
		if w != "records" {
			continue
		}
		found := -1
		for _, axis := range o.Axes.List() {
			if _, ok := b.axisRec[axis]; ok {
				found = axis
			}
		}
		if found < 0 {
			return b.fault(arg, msgArgRecords, k.fn.Name, p.Name)
		}
		if k.records >= 0 && k.records != found {
			return b.fault(arg, msgMixedRecords, k.fn.Name)
		}
		k.records = found
	}
	k.call.args = append(k.call.args, callArg{id: id})
	k.given = append(k.given, o.Axes)
	return nil
}

// wants names what a parameter takes.
func (t Type) wants() string {
	if t.Kind == Quantity {
		return "a number"
	}
	return t.says()
}

// kernelColumns reads the columns that the kernel takes from its list.
func (b *builder) kernelColumns(k *kernelArgs, n *syntax.Call) *syntax.Error {
	if k.call.list < 0 {
		return nil
	}
	list := b.src.Space.Axes[k.call.list].Name
	for i := range k.fn.Kernel.Columns {
		c := &k.fn.Kernel.Columns[i]
		li, ok := b.lineOf[list+"."+c.Name]
		if !ok {
			if c.Default == nil {
				return b.fault(n, msgListColumn, k.fn.Name, c.Name, list)
			}
			k.call.cols = append(k.call.cols, callArg{id: -1, imm: *c.Default})
			k.given = append(k.given, 0)
			continue
		}
		o, err := b.name(&syntax.Name{Span_: n.NameSpan, Base: list, Column: c.Name})
		if err != nil {
			return err
		}
		full := b.src.Lines[li].Name
		if o.Kind != c.Takes {
			return b.fault(n, msgColumnUnit, k.fn.Name, full, Type{Kind: c.Takes}.wants2(), o.says())
		}
		id := o.id
		if c.Takes == Quantity && c.Unit != "" {
			want := b.parseUnit(c.Unit)
			if o.Unit.Dim != want.Dim || o.Unit.Absolute != want.Absolute {
				return b.fault(n, msgColumnUnit, k.fn.Name, full, want.String(), o.says())
			}
			id = b.convert(o, want)
		}
		k.call.cols = append(k.call.cols, callArg{id: id})
		k.given = append(k.given, o.Axes)
	}
	return nil
}

func (t Type) wants2() string {
	if t.Kind == Quantity {
		return "numbers"
	}
	return t.says()
}

// wholeAxes turns the names of a Whole into axes.
func (b *builder) wholeAxes(k *kernelArgs, n *syntax.Call, whole []string) (array.Axes, *syntax.Error) {
	var set array.Axes
	for _, w := range whole {
		switch w {
		case "week":
			set |= array.Only(b.src.Week)
		case "month":
			set |= array.Only(b.src.Month)
		case "month_of_year":
			set |= array.Only(b.src.MonthOf)
		case "year_ahead":
			set |= array.Only(b.src.YearAhead)
		case "list":
			set |= array.Only(k.call.list)
		case "records":
			set |= array.Only(k.records)
		case "refers":
			for _, r := range b.src.Records[b.axisRec[k.records]].Refers {
				set |= array.Only(r.Axis)
			}
		default:
			column, _ := viaColumn(w)
			list := b.src.Space.Axes[k.call.list].Name
			i, ok := b.lineOf[list+"."+column]
			if !ok {
				return 0, b.fault(n, msgListColumn, k.fn.Name, column, list)
			}
			t := b.nodeOf(i).typ
			if t.Kind != Words || t.List < 0 {
				return 0, b.fault(n, msgColumnRefers, k.fn.Name, column)
			}
			set |= array.Only(t.List)
		}
	}
	return set, nil
}

// kernelResult works out which axes are walked outside the kernel and makes the values.
func (b *builder) kernelResult(k *kernelArgs, n *syntax.Call) (operand, *syntax.Error) {
	fn, c := k.fn, k.call
	args := append(append([]callArg{}, c.args...), c.cols...)
	var inner array.Axes
	for i := range args {
		whole := []string(nil)
		if i < len(fn.Params) {
			whole = fn.Params[i].Whole
		} else {
			whole = fn.Kernel.Columns[i-len(fn.Params)].Whole
		}
		set, err := b.wholeAxes(k, n, whole)
		if err != nil {
			return operand{}, err
		}
		args[i].whole = set
		inner |= set
		c.outer |= k.given[i] &^ set
	}
	for _, r := range fn.Kernel.Results {
		set, err := b.wholeAxes(k, n, r.Whole)
		if err != nil {
			return operand{}, err
		}
		c.outs = append(c.outs, callOut{whole: set, id: -1})
		inner |= set
	}
	if c.list >= 0 && inner&array.Only(c.list) == 0 {
		c.outer |= array.Only(c.list)
	}
	if clash := c.outer & inner; clash != 0 {
		axis := clash.List()[0]
		for i := range args {
			if !(k.given[i] &^ args[i].whole).Has(axis) {
				continue
			}
			name, at := "", syntax.Expr(n)
			if i < len(fn.Params) {
				name = fn.Params[i].Name
				at = n.Args[i]
			} else {
				name = b.src.Space.Axes[c.list].Name + "." + fn.Kernel.Columns[i-len(fn.Params)].Name
			}
			return operand{}, b.fault(at, msgArgAxis, fn.Name, name, b.src.Space.Axes[axis].Name)
		}
	}
	for _, axis := range inner.List() {
		if b.src.Space.Axes[axis].Len() == 0 && k.records != axis {
			return operand{}, b.fault(n, msgEmptyAxis, b.src.Space.Axes[axis].Name)
		}
	}
	for _, arg := range args {
		if err := b.inBounds(n, arg.whole); err != nil {
			return operand{}, err
		}
	}
	for _, out := range c.outs {
		if err := b.inBounds(n, out.whole|c.outer); err != nil {
			return operand{}, err
		}
	}
	out := &fn.Kernel.Results[fn.Output]
	t := Type{Kind: out.Takes, Axes: c.outer | c.outs[fn.Output].whole, List: -1}
	if out.Takes == Quantity {
		if like, ok := strings.CutPrefix(out.Unit, "like "); ok {
			t.Unit = k.units[like]
		} else {
			t.Unit = b.parseUnit(out.Unit)
		}
	}
	if b.dry {
		return operand{t, -1}, nil
	}
	loop := int32(-1)
	week := array.Only(b.src.Week)
	for i := range args {
		if id := args[i].id; id >= 0 && b.inside(id) {
			if inner&week != 0 {
				return operand{}, b.fault(n, msgLoopReach, fn.Name)
			}
			loop = b.loop
		}
	}
	for i := range args {
		args[i].cells = b.innerCells(args[i].whole, k.given[i])
	}
	for i := range c.outs {
		c.outs[i].cells = b.innerCells(c.outs[i].whole, c.outs[i].whole|c.outer)
	}
	c.args, c.cols = args[:len(fn.Params)], args[len(fn.Params):]
	if c.list >= 0 {
		c.member = b.src.Space.Axes[c.list].Len()
	}
	if k.records >= 0 {
		c.rows = b.rows(k.records)
	}
	id := b.addCall(k, n, loop)
	b.noteUse(k, b.p.vals[id].a, n)
	return operand{t, id}, nil
}

// innerCells gives the cell of every number that a kernel gets or fills, from
// the outer cell on, for a value over axes.
func (b *builder) innerCells(whole, axes array.Axes) []int32 {
	w := array.NewWalk(b.src.Space, whole, array.Over(axes))
	cells := make([]int32, 0, w.Len())
	if w.Len() == 0 {
		return cells
	}
	for {
		cells = append(cells, int32(w.Cell[0]))
		if !w.Next() {
			return cells
		}
	}
}

func (b *builder) rows(axis int) *Rows {
	rec := &b.src.Records[b.axisRec[axis]]
	r := &Rows{Day: rec.Day}
	for _, ref := range rec.Refers {
		r.Refers = append(r.Refers, ref.Member)
		r.Size = append(r.Size, b.src.Space.Axes[ref.Axis].Len())
	}
	return r
}

// addCall makes the call, unless an equal one is there, and the output asked for.
func (b *builder) addCall(k *kernelArgs, n *syntax.Call, loop int32) int32 {
	c := k.call
	var s strings.Builder
	fmt.Fprintf(&s, "%s %d %d", k.fn.Kernel.Name, c.list, k.records)
	for _, a := range append(c.args[:len(c.args):len(c.args)], c.cols...) {
		fmt.Fprintf(&s, " %d:%g", a.id, a.imm)
	}
	fmt.Fprintf(&s, "%q", c.texts)
	id, ok := b.calls[s.String()]
	if !ok {
		c.site = b.site(k.fn.Name, n)
		b.p.calls = append(b.p.calls, c)
		id = b.push(value{op: vCall, aux: int32(len(b.p.calls) - 1), axes: c.outer, a: -1, b: -1, c: -1, site: c.site})
		b.p.vals[id].loop = loop
		b.calls[s.String()] = id
	}
	c = b.p.calls[b.p.vals[id].aux]
	out := &c.outs[k.fn.Output]
	if out.id < 0 {
		out.id = b.push(value{op: vOutput, a: id, b: -1, c: -1, aux: int32(k.fn.Output), axes: c.outer | out.whole})
		b.p.vals[out.id].loop = loop
	}
	return out.id
}

func argsInWords(fn *Function) string {
	most := len(fn.Params)
	least := 0
	for _, p := range fn.Params {
		if !p.Optional {
			least++
		}
	}
	switch {
	case least != most:
	case most == 1:
		return "1 argument"
	default:
		return fmt.Sprintf("%d arguments", most)
	}
	return fmt.Sprintf("%d to %d arguments", least, most)
}

func signature(fn *Function) string {
	var names []string
	for _, p := range fn.Params {
		s := p.Name
		if p.Optional {
			s = "[" + s + "]"
		}
		names = append(names, s)
	}
	return "(" + strings.Join(names, ", ") + ")"
}

// Signature gives the function's name and its parameters as a person writes them.
func (fn *Function) Signature() string { return fn.Name + signature(fn) }
