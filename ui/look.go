package ui

import (
	"context"
	"slices"
	"time"

	"wintertruss/engine"
)

// A viewer may look at the book under a scenario, or have several set beside the
// plan. Each is opened as a book of its own, so that nobody else waits for it or sees
// it; edits go to the plan as ever, and after each one what is looked at is opened
// anew.

// looks is what a viewer looks at beside the plan. The hub's lock guards it.
type looks struct {
	scenario string   // whose values it is shown; "" is the plan
	beside   []string // whose answers it compares
	at       uint64   // the number of the book that was looked at last
	stop     context.CancelFunc
}

const mostBeside = 24 // scenarios that are compared at once

// look does what a viewer asks of scenarios.
func (h *hub) look(v *viewer, m *FromPage) {
	h.mu.Lock()
	defer h.mu.Unlock()
	v.looks.scenario, v.looks.beside = m.Scenario, m.Beside[:min(len(m.Beside), mostBeside)]
	h.lookOn(v)
}

// lookAgain opens what viewers look at when the book is another by now. The hub is locked.
func (h *hub) lookAgain() {
	_, number := h.live.Now()
	for v := range h.viewers {
		if v.looks.at != number && (v.looks.scenario != "" || v.looks.beside != nil) {
			h.lookOn(v)
		}
	}
}

// lookOn starts to compute what a viewer looks at. The hub is locked.
func (h *hub) lookOn(v *viewer) {
	if v.looks.stop != nil {
		v.looks.stop()
		v.looks.stop = nil
	}
	if h.closed || v.looks.scenario == "" && len(v.looks.beside) == 0 {
		return
	}
	d, number := h.live.Now()
	ctx, cancel := context.WithCancel(context.Background())
	v.looks.at, v.looks.stop = number, cancel
	scenario, beside := v.looks.scenario, v.looks.beside
	h.drawing.Go(func() {
		defer cancel()
		h.lookAt(ctx, v, d, number, scenario, beside)
	})
}

// lookAt tells a viewer what scenarios come to: all of them at once without draws,
// then each with what its draws say.
func (h *hub) lookAt(ctx context.Context, v *viewer, d *engine.Desk, number uint64, scenario string, beside []string) {
	names := beside
	if scenario != "" {
		names = append([]string{scenario}, without(beside, scenario)...)
	}
	desks := map[string]*engine.Desk{}
	for _, name := range names {
		m := &ToPage{Type: "look", Number: number, Scenario: name}
		s, err := d.Under(name)
		if err != nil {
			m.Fault = &Fault{Message: "the book has no scenario " + name}
		} else {
			desks[name] = s
			m.Answers = answersView(s, s.PlainAnswers(), h.live.Good)
			if name == scenario {
				m.Values = map[string]*Value{}
				for _, line := range s.Names() {
					m.Values[line] = valueView(s.Plain(line), nil)
				}
				m.Units = unitsOf(s, m.Values)
			}
		}
		if !h.lookSays(ctx, v, m) {
			return
		}
	}
	select { // what was sent is painted first
	case <-ctx.Done():
		return
	case <-time.After(letPaint):
	}
	plan, err := d.Under("")
	if err != nil {
		return // the plan was served a moment ago: it can be opened
	}
	for _, name := range names {
		s := desks[name]
		if s == nil {
			continue
		}
		var lines []string
		if name == scenario {
			lines = s.Names()
		}
		values, answers, err := s.Bands(ctx, lines)
		if err != nil {
			return // it is looked at no more
		}
		m := &ToPage{Type: "look", Number: number, Scenario: name, Answers: answersView(s, answers, h.live.Good), Draws: s.Draws()}
		for line, value := range values {
			if m.Values == nil {
				m.Values = map[string]*Value{}
			}
			m.Values[line] = valueView(value, nil)
		}
		if slices.Contains(beside, name) {
			if c, err := plan.StepsTo(name); err == nil {
				for _, step := range c.Steps {
					m.Steps = append(m.Steps, Step(step))
				}
			}
		}
		if !h.lookSays(ctx, v, m) {
			return
		}
	}
}

func without(names []string, name string) []string {
	var out []string
	for _, n := range names {
		if n != name {
			out = append(out, n)
		}
	}
	return out
}

// lookSays sends what was looked at, unless the viewer looks at something else by now.
func (h *hub) lookSays(ctx context.Context, v *viewer, m *ToPage) bool {
	h.mu.Lock()
	defer h.mu.Unlock()
	if ctx.Err() != nil || h.closed || !h.viewers[v] {
		return false
	}
	h.answer(v, m)
	return true
}
