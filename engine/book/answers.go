package book

import (
	"slices"
	"strconv"
	"strings"

	"wintertruss/engine/syntax"
)

// Condition is "formula compare literal-or-name", or a bare formula.
type Condition struct {
	Text  string
	Place syntax.Place
	Left  *syntax.Formula
	Op    string          // "" for a bare formula; then Right and Literal are nil
	Right *syntax.Formula // nil when Literal is set
	// Literal is the value on the right, in the unit it was written in.
	Literal *Value
}

// Caution is a row of a cautions block: when the condition fails, the message stands beside it.
type Caution struct {
	Condition Condition
	Message   string
	Page      string
}

// Answer is a row of the answers block.
type Answer struct {
	Key     string // "pays", "charge" or "carries"
	Place   syntax.Place
	Entries []Condition
	// Broken is the first fault among the entries, nil without one: which entry is
	// first matters, so an answer with a broken one cannot be given.
	Broken *syntax.Error
}

// Chart is a chart block.
type Chart struct {
	Title string
	Place syntax.Place // of the block's info string
	Page  string
	Kind  string   // one of ChartKinds
	Lines []string // lines, or columns as "list.column"
	Split string   // an axis; "" for none
}

var (
	answerKeys = []string{"pays", "charge", "carries"}
	chartKeys  = []string{"kind", "lines", "split"}
	// ChartKinds are the kinds of charts that a book can ask for.
	ChartKinds = []string{"fan", "columns", "level", "stack", "waterfall", "tornado", "phases", "table"}
)

// condition reads one condition. name is what an error names.
func (a *assembler) condition(c *syntax.Condition, name string) (Condition, *syntax.Error) {
	read := Condition{Text: c.Text, Place: c.Place, Left: c.Left, Op: c.Op, Right: c.Right}
	if c.Literal == nil {
		return read, nil
	}
	v, err := a.read(c.Literal, Key{Name: name}, a.Units.One())
	if err != nil {
		return read, err
	}
	read.Literal = &v
	return read, nil
}

// readCautions reads the rows of a cautions block.
func (a *assembler) readCautions(b *blockRows) {
	for _, part := range b.rows {
		item, ok := part.Item.(*syntax.Caution)
		if !ok {
			a.report(a.readFault(part))
			continue
		}
		c, err := a.condition(&item.Condition, "cautions")
		if err != nil {
			a.report(err)
			continue
		}
		a.Cautions = append(a.Cautions, Caution{Condition: c, Message: item.Message, Page: b.block.Page})
	}
}

// readAnswers reads the rows of the answers block.
func (a *assembler) readAnswers(b *blockRows) {
	for _, part := range b.rows {
		item, ok := part.Item.(*syntax.Answer)
		if !ok { // the answer stays known by its key
			err := a.readFault(part)
			a.report(err)
			if key := firstWord(part.Text); slices.Contains(answerKeys, key) {
				a.addAnswer(Answer{Key: key, Place: err.Place, Broken: err})
			}
			continue
		}
		key := item.Key.Text
		if !slices.Contains(answerKeys, key) {
			a.report(unknownAnswer.near(a.near(key, fixed(answerKeys)), key, item.Key.Place, key))
			continue
		}
		answer := Answer{Key: key, Place: item.Key.Place}
		for i := range item.Entries {
			c, err := a.condition(&item.Entries[i], key)
			if err == nil {
				answer.Entries = append(answer.Entries, c)
				continue
			}
			a.report(err)
			if answer.Broken == nil {
				answer.Broken = err
			}
		}
		a.addAnswer(answer)
	}
}

// addAnswer takes in an answer, each key once.
func (a *assembler) addAnswer(answer Answer) {
	for _, before := range a.Answers {
		if before.Key == answer.Key {
			a.report(repeatedKey.at(answer.Key, answer.Place, answer.Key, strconv.Itoa(before.Place.Line)))
			return
		}
	}
	a.Answers = append(a.Answers, answer)
}

// readChart reads a chart block. A chart that cannot be read is left out.
func (a *assembler) readChart(b *blockRows) {
	chart := Chart{Title: b.block.Title, Place: b.block.Place, Page: b.block.Page}
	seen := map[string]int{}
	good := true
	fault := func(err *syntax.Error) {
		a.report(err)
		good = false
	}
	for _, part := range b.rows {
		item, ok := part.Item.(*syntax.ChartKey)
		if !ok {
			fault(a.readFault(part))
			continue
		}
		key := item.Key.Text
		if line, twice := seen[key]; twice {
			fault(repeatedKey.at(key, item.Key.Place, key, strconv.Itoa(line)))
			continue
		}
		seen[key] = item.Key.Line
		switch key {
		case "kind":
			if chart.Kind = item.Value.Text; !slices.Contains(ChartKinds, chart.Kind) {
				fault(unknownChartKind.near(a.near(chart.Kind, fixed(ChartKinds)), chart.Title, item.Value.Place, chart.Kind))
			}
		case "lines":
			for _, w := range splitWords(item.Value) {
				if err := a.drawable(w); err != nil {
					fault(err)
				}
				chart.Lines = append(chart.Lines, w.Text)
			}
		case "split":
			if err := a.axis(chart.Title, item.Value); err != nil {
				fault(err)
			}
			chart.Split = item.Value.Text
		default:
			fault(unknownChartKey.near(a.near(key, fixed(chartKeys)), chart.Title, item.Key.Place, key))
		}
	}
	if good && chart.Kind == "" {
		fault(missingChartKey.at(chart.Title, chart.Place, "kind", "fan"))
	}
	if good && len(chart.Lines) == 0 && chart.Kind != "phases" { // phases come from a list's dates
		fault(missingChartKey.at(chart.Title, chart.Place, "lines", "harvest"))
	}
	if good {
		a.Charts = append(a.Charts, chart)
	}
}

// drawable checks a name in a chart. A broken line stays in: it may be mended
// while the chart is on the screen.
func (a *assembler) drawable(w syntax.Word) *syntax.Error {
	list, column, dotted := strings.Cut(w.Text, ".")
	switch {
	case a.Line(w.Text) != nil, a.Broken[w.Text] != nil, w.Text == BuiltInLine:
		return nil
	case dotted && (a.Column(list, column) != nil || a.Broken[list] != nil):
		return nil
	}
	return unknownName.near(a.near(w.Text, a.targetNames), w.Text, w.Place, w.Text)
}
