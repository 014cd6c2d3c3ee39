package engine

import "context"

// Bands runs the draws of lines and gives their values with bands, and the
// answers. It stops when ctx ends.
func (d *Desk) Bands(ctx context.Context, names []string) (map[string]*Value, []Answer, error) {
	if d.made == nil {
		return nil, nil, nil
	}
	lines := d.answerLines()
	for _, name := range names {
		if i, ok := d.made.byName[name]; ok {
			lines = append(lines, i)
		}
	}
	if err := d.drawUntil(ctx, lines...); err != nil {
		return nil, nil, err
	}
	out := map[string]*Value{}
	for _, name := range names {
		if err := ctx.Err(); err != nil {
			return nil, nil, err
		}
		v, err := d.Value(name)
		if err != nil {
			return nil, nil, err
		}
		out[name] = v
	}
	answers, err := d.Answers()
	return out, answers, err
}
