package sheets_test

import (
	"math"
	"regexp"
	"strconv"
	"strings"
	"testing"
	"time"

	"wintertruss/engine"
	"wintertruss/engine/week"
	"wintertruss/sheets"
)

// A second opinion on the propane of the starter book. It reads the book's text and
// reckons the season by itself: nothing of the engine computes here but the figures it
// is held against. It goes another way wherever there is one: every day for itself and
// not a week's mean day, the sun by its height in each hour and not by half a sine,
// the hoop by the arcsine, degrees Fahrenheit and BTU throughout.
//
// Ten per cent between the two is what the book may be asked for. Their inputs are the
// same, so it says nothing of whether those are right.
func TestPropaneBySecondReckoning(t *testing.T) {
	_, text, _ := sheets.Book(sheets.Starter)
	d, err := engine.Open("tern_hollow.md", text, engine.Options{Today: week.Day(20500), Scenario: "before_winter", Draws: 16})
	if err != nil {
		t.Fatal(err)
	}
	book := reckoner{text: string(text)}
	for _, line := range []struct {
		name   string
		sun    bool
		factor func(h house) float64 // BTU to the line's unit
	}{
		{"propane", true, func(h house) float64 { return 1 / (book.number("propane_heat") * h.heater) }},
		{"heat_no_sun", false, func(house) float64 { return 1 }},
	} {
		v, err := d.Value(line.name)
		if err != nil || v.Error != nil {
			t.Fatalf("%s: %v %v", line.name, err, v.Error)
		}
		weeks := len(v.Members["week"])
		for i, name := range v.Members["house"] {
			engine := 0.0
			for _, x := range v.Cells[i*weeks : (i+1)*weeks] {
				engine += x
			}
			h := book.house(name)
			own := book.season(h, line.sun) * line.factor(h)
			t.Logf("%s, %s house: engine %.0f %s, second reckoning %.0f (%+.1f %%)", line.name, name, engine, v.Unit, own, 100*(engine/own-1))
			if !(math.Abs(engine/own-1) <= 0.10) {
				t.Errorf("%s of the %s house: engine %.0f %s, second reckoning %.0f", line.name, name, engine, v.Unit, own)
			}
		}
	}
}

// What every grower knows must come out of the book as well: a colder winter, a
// thinner cover, more leaks and warmer nights take more propane, a screen, a fuller
// heater, lights and nights of 56 degF less; and where more is burned less money is left.
func TestHeatMovesTheRightWay(t *testing.T) {
	_, text, _ := sheets.Book(sheets.Starter)
	total := func(scenario string, sets ...string) (propane, margin float64) {
		t.Helper()
		d, err := engine.Open("tern_hollow.md", text, engine.Options{Today: week.Day(20500), Scenario: scenario, Sets: append(sets, "lived=no"), Draws: 16})
		if err != nil {
			t.Fatal(err)
		}
		burned, err := d.Value("propane")
		if err != nil || burned.Error != nil {
			t.Fatal(err, burned.Error)
		}
		left, err := d.Value("margin_over_cash")
		if err != nil || left.Error != nil {
			t.Fatal(err, left.Error)
		}
		for _, x := range burned.Cells {
			propane += x
		}
		return propane, left.Cells[0]
	}
	plan, planMargin := total("")
	for _, c := range []struct {
		what     string
		scenario string
		sets     []string
		more     float64 // 1: more propane; -1: less
		money    bool    // and the margin follows from that alone
	}{
		{"a colder winter", "colder", nil, 1, false},                            // the crop is later too
		{"single film", "", []string{"house.cover@long=single_poly"}, 1, false}, // the air inside moves, too
		{"more leaks", "", []string{"house.air_changes@short=2 1/h"}, 1, false},
		{"warmer nights", "", []string{"house.night@long=66 degF"}, 1, false},
		{"cooler nights", "cool_winter", nil, -1, false},
		{"lights over the long house", "lights", nil, -1, false}, // the crop is another, too
		{"a screen", "", []string{"house.screen_saves@long=30 %"}, -1, true},
		{"a better heater", "", []string{"house.heater@long=90 %"}, -1, true},
		{"propane of more heat", "", []string{"propane_heat=92500 BTU/gal"}, -1, true},
	} {
		propane, margin := total(c.scenario, c.sets...)
		if !(c.more*(propane-plan) > 1) {
			t.Errorf("%s: %.0f gal of propane, %.0f in the plan", c.what, propane, plan)
		}
		if c.money && !(c.more*(margin-planMargin) < 0) {
			t.Errorf("%s: %.0f USD left, %.0f in the plan", c.what, margin, planMargin)
		}
	}
}

// reckoner reads a book's text.
type reckoner struct{ text string }

// number reads the figure of an input line, its middle.
func (r reckoner) number(line string) float64 {
	found := regexp.MustCompile(`(?m)^` + line + ` *: *(-?[0-9.]+)`).FindStringSubmatch(r.text)
	x, _ := strconv.ParseFloat(found[1], 64)
	return x
}

// months reads twelve normals.
func (r reckoner) months(line string) (normals [12]float64) {
	found := regexp.MustCompile(`(?m)^` + line + ` over month_of_year : ([-0-9., ]+)`).FindStringSubmatch(r.text)
	for i, x := range strings.Split(found[1], ",") {
		normals[i], _ = strconv.ParseFloat(strings.TrimSpace(x), 64)
	}
	return normals
}

// rows reads a list: member, then column by its name without the unit.
func (r reckoner) rows(list string) map[string]map[string]string {
	block := regexp.MustCompile("(?s)```list " + list + "\n(.*?)```").FindStringSubmatch(r.text)[1]
	var head []string
	rows := map[string]map[string]string{}
	for _, line := range strings.Split(strings.TrimSpace(block), "\n") {
		if strings.HasPrefix(line, "//") {
			continue
		}
		cells := strings.Split(line, "|")
		for i := range cells {
			cells[i] = strings.TrimSpace(cells[i])
		}
		if head == nil {
			for _, cell := range cells {
				head = append(head, strings.Fields(cell + " ?")[0])
			}
			continue
		}
		row := map[string]string{}
		for i, cell := range cells[1:] {
			row[head[i+1]] = cell
		}
		rows[cells[0]] = row
	}
	return rows
}

type house struct {
	loss          float64 // BTU/h/degF
	floor, passes float64 // ft2; share of light
	heater        float64 // share of the propane's heat
	night, day    string  // set points with their dates, degF
	vent          float64
	from, to      time.Time // in use
}

func (r reckoner) house(name string) house {
	row := r.rows("house")[name]
	get := func(column string) float64 {
		x, _ := strconv.ParseFloat(strings.Fields(row[column] + " 0")[0], 64)
		return x
	}
	if row["shape"] != "arch" {
		panic("the second reckoning knows arches alone")
	}
	length, width, wall, rise := get("length"), get("width"), get("wall"), get("rise")
	radius := (width*width/4 + rise*rise) / (2 * rise)
	half := math.Asin(width / 2 / radius) // of the angle of the hoop, which rises less than its radius here
	hoop := 2 * radius * half
	section := radius*radius*half - width/2*(radius-rise) + width*wall
	u := map[string]float64{"double_poly": 0.70, "polycarbonate": 0.53} // BTU/h/ft2/degF, as the trade gives them
	h := house{
		loss:  u[row["cover"]]*length*(hoop+2*wall) + u[row["end_cover"]]*2*section + 0.018*get("air_changes")*section*length,
		floor: get("floor"), passes: get("passes") / 100, heater: get("heater") / 100,
		night: row["night"], day: row["day"], vent: get("vent"),
	}
	for _, planting := range r.rows("planting") {
		if planting["house"] != name {
			continue
		}
		out, _ := time.Parse(time.DateOnly, planting["set_out"])
		cleared, _ := time.Parse(time.DateOnly, planting["cleared"])
		if h.from.IsZero() || out.Before(h.from) {
			h.from = out
		}
		if cleared.After(h.to) {
			h.to = cleared
		}
	}
	return h
}

// setPoint reads a schedule such as "62; 61 from 2027-W14" on a day.
func setPoint(schedule string, day time.Time) float64 {
	year, number := day.ISOWeek()
	set := 0.0
	for _, piece := range strings.Split(schedule, ";") {
		words := strings.Fields(piece)
		if len(words) > 2 {
			y, _ := strconv.Atoi(words[2][:4])
			w, _ := strconv.Atoi(words[2][6:])
			if y > year || y == year && w > number {
				break
			}
		}
		set, _ = strconv.ParseFloat(words[0], 64)
	}
	return set
}

// normal reads a day's normal: a straight line between the 15ths.
func normal(months [12]float64, day time.Time) float64 {
	before := time.Date(day.Year(), day.Month(), 15, 0, 0, 0, 0, time.UTC)
	if day.Before(before) {
		before = before.AddDate(0, -1, 0)
	}
	after := before.AddDate(0, 1, 0)
	share := day.Sub(before).Hours() / after.Sub(before).Hours()
	return months[before.Month()-1]*(1-share) + months[after.Month()-1]*share
}

// season gives the heat of a house, BTU, day by day and hour by hour.
func (r reckoner) season(h house, withSun bool) float64 {
	high, low := r.months("high"), r.months("low")
	latitude := r.number("latitude") * math.Pi / 180
	metres := r.number("elevation") * 0.3048
	factor, darker := r.number("coast_factor"), r.number("darker")/100
	heat := 0.0
	for day := h.from; day.Before(h.to); day = day.AddDate(0, 0, 1) {
		tx, tn := normal(high, day), normal(low, day)
		j := float64(day.YearDay())
		tilt := 0.409 * math.Sin(2*math.Pi*j/365-1.39)
		sunset := math.Acos(-math.Tan(latitude) * math.Tan(tilt))
		sky := 24 * 60 / math.Pi * 0.0820 * (1 + 0.033*math.Cos(2*math.Pi*j/365)) *
			(sunset*math.Sin(latitude)*math.Sin(tilt) + math.Cos(latitude)*math.Cos(tilt)*math.Sin(sunset))
		sun := math.Min(factor*math.Sqrt((tx-tn)/1.8)*sky*darker, (0.75+2e-5*metres)*sky) // MJ/m2
		// The sun of each hour by its height at the hour's middle.
		var height [24]float64
		sum := 0.0
		for hour := range height {
			angle := (float64(hour) + 0.5 - 12) * math.Pi / 12
			height[hour] = math.Max(0, math.Sin(latitude)*math.Sin(tilt)+math.Cos(latitude)*math.Cos(tilt)*math.Cos(angle))
			sum += height[hour]
		}
		night, warm := setPoint(h.night, day), setPoint(h.day, day)
		for hour := range 24 {
			outside := (tx+tn)/2 + (tx-tn)/2*math.Cos((float64(hour)+0.5-15)*math.Pi/12)
			kept := night
			if height[hour] > 0 {
				kept = warm
			}
			need := h.loss * (kept - outside)
			if withSun {
				// MJ/m2 of the hour in BTU/ft2, through the cover, half of it into the air
				need -= sun * height[hour] / sum * 88.055 * h.floor * h.passes * 0.5
			}
			heat += math.Max(0, need)
		}
	}
	return heat
}
