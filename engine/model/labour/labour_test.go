package labour

import (
	"math"
	"math/rand/v2"
	"testing"
)

func near(t testing.TB, what string, got, want, within float64) {
	t.Helper()
	if !(math.Abs(got-want) <= within) {
		t.Errorf("%s: got %v, want %v within %v", what, got, want, within)
	}
}

var winter = Days{Sown: 0, SetOut: 28, FirstFlower: 60, FirstPick: 120, Topped: 220, Cleared: 265}

// Ylaranta & Ryynanen, study of 1977 (abstract): picking 53.0 kg an hour, sorting and
// packing 90.1. A week of 500 kg: 9.4 and 5.5 hours.
func TestPickingAndPacking(t *testing.T) {
	week := Counts{Plants: 600, Stems: 1, Weight: 500}
	near(t, "picking", Task{Weight: 60 / 53.0}.Hours(week, 1, 145, 1, 1), 9.4, 0.05)
	near(t, "packing", Task{Weight: 60 / 90.1}.Hours(week, 1, 145, 1, 1), 5.5, 0.06)
	// The same study: hours for 1,000 m2 times kilograms an hour are the yields of the
	// short, middle and long crop, kg/m2.
	for _, c := range []struct{ hours, pace, yield float64 }{{1253, 6.6, 8.3}, {1583, 7.7, 12.2}, {1998, 11.0, 22.0}} {
		near(t, "yield", c.hours*c.pace/1000, c.yield, 0.1)
	}
}

// Hanna 2007 (LSU AgCenter): vibrating 640 plants for 18 weeks took 16.27 hours: 5.1
// seconds a plant and week.
func TestVibrating(t *testing.T) {
	task, sum := Task{Plant: 5.1 / 60}, 0.0
	for range 18 {
		sum += task.Hours(Counts{Plants: 640, Stems: 1}, 1, 126, 1, 1)
	}
	near(t, "hours", sum, 16.3, 0.1)
}

// Greenhouse Grower: 37 hours a week for 10,000 ft2 at the peak, 39.8 for 1,000 m2;
// cucumbers 19 % less, peppers 32 % less.
func TestEffort(t *testing.T) {
	const plants = 2000 // a 1,000 m2 of two plants a square metre
	task := Task{Plant: 37 / 929.0304 * 1000 * 60 / plants}
	week := Counts{Plants: plants, Stems: 1}
	near(t, "tomato", task.Hours(week, 1, 200, 1, 1), 39.8, 0.1)
	near(t, "cucumber", task.Hours(week, 1, 200, 0.81, 1), 32.3, 0.1)
	near(t, "pepper", task.Hours(week, 1, 200, 0.68, 1), 27.1, 0.1)
}

// Law: a phase's weeks hold its days, no more and no less, wherever weeks begin; so a
// plant's once-done work is done once.
func TestPhasesAddUp(t *testing.T) {
	for p := range phaseCount {
		from, to := p.Span(winter)
		if !(to > from) {
			t.Fatalf("%s never comes", Phases[p])
		}
		for offset := -7.0; offset < 0; offset += 0.5 {
			share, once := 0.0, 0.0
			for monday := offset; monday < 400; monday += weekDays {
				s := ShareOfWeek(monday, from, to)
				share += s
				once += Task{Once: 2}.Hours(Counts{Plants: 30, Stems: 1}, s, to-from, 1, 1)
			}
			near(t, Phases[p], share*weekDays, to-from, 1e-9)
			near(t, Phases[p]+" once", once, 1, 1e-9)
		}
	}
}

// A planting's phases follow each other as a grower knows them.
func TestSpans(t *testing.T) {
	for p, want := range map[Phase][2]float64{
		Raising: {0, 28}, Setting: {28, 35}, Growing: {28, 265}, Flowering: {60, 220},
		Leafing: {85, 265}, Lowering: {84, 220}, Picking: {120, 265}, Clearing: {265, 272}, Always: {0, 272},
	} {
		from, to := p.Span(winter)
		if from != want[0] || to != want[1] {
			t.Errorf("%s: %v..%v, want %v", Phases[p], from, to, want)
		}
		if got, ok := PhaseOf(Phases[p]); !ok || got != p {
			t.Errorf("%s is not found", Phases[p])
		}
	}
	if _, ok := PhaseOf("sleeping"); ok {
		t.Error("a phase that is none")
	}
	untopped := winter
	untopped.Topped = math.NaN()
	if _, to := Flowering.Span(untopped); to != untopped.Cleared {
		t.Error("a crop not topped flowers until it is cleared")
	}
	never := winter
	never.FirstPick = math.NaN()
	from, to := Picking.Span(never)
	near(t, "never picked", ShareOfWeek(100, from, to), 0, 0)
	near(t, "a crop turned round", ShareOfWeek(100, 110, 90), 0, 0)
}

// Law: hours are straight in what is counted, and added up in any order.
func TestHoursAddUp(t *testing.T) {
	r := rand.New(rand.NewPCG(9, 28))
	random := func() Task {
		return Task{r.Float64(), r.Float64(), r.Float64(), r.Float64(), r.Float64(), r.Float64(), r.Float64()}
	}
	for range 200 {
		a, b := random(), random()
		both := Task{a.Once + b.Once, a.Plant + b.Plant, a.Stem + b.Stem, a.Truss + b.Truss, a.Node + b.Node, a.Weight + b.Weight, a.Fixed + b.Fixed}
		c := Counts{Plants: 1000 * r.Float64(), Stems: 1 + r.Float64(), Truss: r.Float64(), Node: 7 * r.Float64(), Weight: 300 * r.Float64()}
		share, days, effort, heavy := r.Float64(), 7+100*r.Float64(), r.Float64(), r.Float64()
		near(t, "two tasks in one", both.Hours(c, share, days, effort, heavy), a.Hours(c, share, days, effort, heavy)+b.Hours(c, share, days, effort, heavy), 1e-9)
		loose := a
		loose.Fixed = 0
		double := c
		double.Plants, double.Weight = 2*c.Plants, 2*c.Weight
		near(t, "twice the planting", loose.Hours(double, share, days, effort, heavy), 2*loose.Hours(c, share, days, effort, heavy), 1e-9)
	}
	near(t, "out of its phase", random().Hours(Counts{Plants: 100, Stems: 1, Truss: 1, Weight: 10}, 0, 7, 1, 1), 0, 0)
	near(t, "nothing stands", random().Hours(Counts{}, 1, 7, 1, 1), 0, 0)
}

func TestHired(t *testing.T) {
	for _, c := range [][3]float64{{60, 48, 12}, {40, 48, 0}, {40, 0, 40}, {40, -5, 40}, {0, 10, 0}} {
		near(t, "hired", Hired(c[0], c[1]), c[2], 0)
		near(t, "done", Hired(c[0], c[1])+min(c[0], max(0, c[1])), c[0], 1e-12)
	}
}
