package syntax

// Expr is a node of a formula's tree: Number, Name, Text, Unary, Binary, Choice or Call.
// It is our own small tree; only this package knows the parser it came from.
type Expr interface {
	// Span gives the place of the node in the formula's text, in characters
	// (runes) from its first character: From is in, To is out.
	Span() Span
}

// Span is a half-open range of characters.
type Span struct{ From, To int }

// Number is a plain number; it has no unit.
type Number struct {
	Span_ Span
	Value float64
	Text  string // as written
}

// Name is a line, a list, a list's column or a record's column.
type Name struct {
	Span_  Span
	Base   string // line, list or records name
	Column string // "" unless written base.column
}

// Full gives the name as written: "price" or "house.floor".
func (n *Name) Full() string {
	if n.Column == "" {
		return n.Base
	}
	return n.Base + "." + n.Column
}

// Text is quoted text: a member, a week, a scenario, a literal with a unit.
type Text struct {
	Span_ Span
	Value string
}

// Unary is -x or not x.
type Unary struct {
	Span_ Span
	Op    string // "-" or "not"
	X     Expr
}

// Binary is one of + - * / ^ < <= > >= == != and or.
type Binary struct {
	Span_ Span
	Op    string
	L, R  Expr
}

// Choice is cond ? then : else.
type Choice struct {
	Span_            Span
	Cond, Then, Else Expr
}

// Call is name(arguments).
type Call struct {
	Span_ Span
	Name  string
	// NameSpan is the place of the function's name alone.
	NameSpan Span
	Args     []Expr
}

func (n *Number) Span() Span { return n.Span_ }
func (n *Name) Span() Span   { return n.Span_ }
func (n *Text) Span() Span   { return n.Span_ }
func (n *Unary) Span() Span  { return n.Span_ }
func (n *Binary) Span() Span { return n.Span_ }
func (n *Choice) Span() Span { return n.Span_ }
func (n *Call) Span() Span   { return n.Span_ }

// Walk calls f for n and every node below it, parents first.
func Walk(n Expr, f func(Expr)) {
	f(n)
	switch n := n.(type) {
	case *Unary:
		Walk(n.X, f)
	case *Binary:
		Walk(n.L, f)
		Walk(n.R, f)
	case *Choice:
		Walk(n.Cond, f)
		Walk(n.Then, f)
		Walk(n.Else, f)
	case *Call:
		for _, a := range n.Args {
			Walk(a, f)
		}
	}
}
