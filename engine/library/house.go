package library

import (
	"math"
	"strings"

	"wintertruss/engine/array"
	"wintertruss/engine/formula"
	"wintertruss/engine/model/house"
)

// The functions of a house read its columns from the list of houses. These are
// all of them, in the order in which kernels get them: those of the form first,
// then those of the losses, so that a kernel takes as many as it needs.
const (
	columnShape = iota
	columnLength
	columnWidth
	columnWall
	columnRise
	columnBays
	columnCover
	columnLoss
	columnEndCover
	columnEndLoss
	columnAirChanges
	columnScreenSaves
	columnPasses
	columnFloor
	columnNight
	columnDay

	formColumns = columnBays + 1
	lossColumns = columnAirChanges + 1
)

func houseColumns() []formula.Column {
	week := []string{"week"}
	number := func(x float64) *float64 { return &x }
	absent := number(array.Blank)
	return []formula.Column{
		columnShape:       {Name: "shape", Takes: formula.Words},
		columnLength:      {Name: "length", Unit: "m"},
		columnWidth:       {Name: "width", Unit: "m"},
		columnWall:        {Name: "wall", Unit: "m", Default: number(0)},
		columnRise:        {Name: "rise", Unit: "m", Default: absent},
		columnBays:        {Name: "bays", Unit: "1", Default: number(1)},
		columnCover:       {Name: "cover", Takes: formula.Words, Default: absent},
		columnLoss:        {Name: "loss", Unit: "W/m2/K", Default: absent},
		columnEndCover:    {Name: "end_cover", Takes: formula.Words, Default: absent},
		columnEndLoss:     {Name: "end_loss", Unit: "W/m2/K", Default: absent},
		columnAirChanges:  {Name: "air_changes", Unit: "1/h"},
		columnScreenSaves: {Name: "screen_saves", Unit: "1", Default: number(0)},
		columnPasses:      {Name: "passes", Unit: "1", Default: number(house.CoverPasses.Value)},
		columnFloor:       {Name: "floor", Unit: "m2", Default: absent},
		columnNight:       {Name: "night", Unit: "degC", Whole: week},
		columnDay:         {Name: "day", Unit: "degC", Whole: week},
	}
}

// The columns in words, for the cards.
const (
	formReads = " Reads from the list: shape (half_circle, arch or gable), length, width, wall (height of the side wall; none: 0) and rise " +
		"(of the roof above the wall; a half circle needs none), and bays (of one width each, joined at open gutters; else 1)."
	lossReads = " Also air_changes in an hour, and cover (a kind) or loss (heat lost by surface and degree, which goes before the cover's); " +
		"end walls of another cover have end_cover or end_loss."
	dayReads = " Also the set points night and day, over week or not; and when given screen_saves (share of the cover's loss that a screen closed at night saves), " +
		"passes (share of light that reaches the crop; else 70 %) and floor (else length times width). A blank cell counts as if the list had no such column."
)

// houseFunctions gives the names for a house's form, its losses, the one hourly
// calculation of its air and its heat, and its fans.
func houseFunctions() []formula.Function {
	columns := houseColumns()
	form := &formula.Kernel{
		Name: "house form", Columns: columns[:formColumns],
		Results: []formula.Result{{Unit: "m2"}, {Unit: "m3"}},
		Run:     runForm,
	}
	loss := &formula.Kernel{
		Name: "house loss", Columns: columns[:lossColumns],
		Results: []formula.Result{{Unit: "W"}},
		Run:     runLoss,
	}
	list := formula.Param{Name: "house", Says: "the list of houses", Takes: formula.ListName}
	functions := []formula.Function{{
		Name: "cover_area",
		Card: formula.Card{
			Family: heatFamily,
			Says:   "All of a house's cover: roof, side walls and both ends." + formReads,
			Gives:  "m2 over the list",
			Valid:  "length, width and an arch's rise above 0; anything else is refused. Plain geometry: film for laps and edges comes on top.",
			Source: "geometry of circle and triangle, a definition",
			Example: formula.Example{
				Book: climateBook(exampleHouses, `cover = only(cover_area(house), "long") -> ft2 // half circle of 30 ft: 4523.9 of roof and 706.9 of ends`),
				Ask:  "cover", Want: []float64{5230.75},
			},
		},
		Params: []formula.Param{list}, Kernel: form, Output: 0,
	}, {
		Name: "house_volume",
		Card: formula.Card{
			Family: heatFamily,
			Says:   "The room in a house, which air changes are counted by." + formReads,
			Gives:  "m3 over the list",
			Valid:  "length, width and an arch's rise above 0; anything else is refused.",
			Source: "geometry of circle and triangle, a definition",
			Example: formula.Example{
				Book: climateBook(exampleHouses, `room = only(house_volume(house), "long") -> ft3`),
				Ask:  "room", Want: []float64{33929.2},
			},
		},
		Params: []formula.Param{list}, Kernel: form, Output: 1,
	}, {
		Name: "heat_loss",
		Card: formula.Card{
			Family: heatFamily,
			Says: "The heat that leaves a house at one temperature inside and one outside, through cover and ends and with leaking air, screens open. " +
				"At the coldest night to be met it is what the heater must be able to deliver." + formReads + lossReads + burnerCaution,
			Gives: "W over the list and the axes of its arguments; BTU/h when asked for",
			Valid: "covers known: " + coverWords() + ". Below zero when it is warmer outside. Left out: the edge along the ground, wind above about 15 mph, snow. " +
				"A heater is chosen with a margin above this, by whoever is licensed to fit it.",
			Source: "conduction and infiltration as in ASAE EP406 and NRAES-33 (from memory); covers: Extension Foundation, Glazing materials",
			Example: formula.Example{
				Book: climateBook(exampleHouses, "inside : 60 degF", "outside : 0 degF", `lost = only(heat_loss(house, inside, outside), "long") -> BTU/h // 219,692 by the cover and 36,644 by the air`),
				Ask:  "lost", Want: []float64{256335},
			},
			Table: &formula.Table{
				Title: "Heat that covers lose for each degree between inside and outside", Heads: []string{"cover", "low, BTU/h/ft2/degF", "high, BTU/h/ft2/degF"},
				Of:     []string{"any single layer: film, glass", "inflated double film", "twin-wall polycarbonate, 8 to 6 mm"},
				Rows:   factRows(1, house.LossGlass, house.LossDoublePoly, house.LossPolycarbonate),
				Source: "Extension Foundation, unit Greenhouses, page Glazing materials; polycarbonate: Rimol Greenhouse Systems, How to size a greenhouse heating system, and S. Awad 2012, Consider the R-value",
			},
		},
		Params: []formula.Param{list,
			{Name: "inside", Says: "air inside", Unit: "degC"},
			{Name: "outside", Says: "air outside", Unit: "degC"},
		},
		Kernel: loss,
	}}
	functions = append(functions, hourlyFunctions(list, columns)...)
	functions = append(functions, coolingFunctions(list, columns)...)
	return append(functions, fanFunctions()...)
}

// exampleHouses is the list of the worked examples.
const exampleHouses = `     | label      | shape       | length ft | width ft | cover       | loss BTU/h/ft2/degF | air_changes 1/h | night over week degF | day over week degF
long | Long house | half_circle | 96        | 30       | double_poly | 0.70                | 1               | 62                   | 70
`

// coverWords lists the covers known, for cards and refusals.
func coverWords() string { return strings.Join(house.Covers(), ", ") }

// given is a column's cell, or instead when it is blank.
func given(x, instead float64) float64 {
	if array.IsBlank(x) {
		return instead
	}
	return x
}

// readForm gives the form of the house of this call. Where ok is false the call
// has been ended.
func readForm(c *formula.Call) (form house.Shape, ok bool) {
	length, width := c.Columns[columnLength][0], c.Columns[columnWidth][0]
	wall := given(c.Columns[columnWall][0], 0)
	shape, bays := c.Columns[columnShape][0], given(c.Columns[columnBays][0], 1)
	if gap, found := missing(shape, length, width, wall, bays); found {
		return form, skip(c, gap)
	}
	if bays < 1 || bays > mostBays || bays != math.Trunc(bays) {
		return form, stop(c, "the bays of a house are a whole number, from 1 to 1,000")
	}
	form, ok = readBay(c, c.Word(shape), length, width, wall)
	return form.Bays(int(bays)), ok
}

const mostBays = 1000

// readBay gives the form of one bay.
func readBay(c *formula.Call, kind string, length, width, wall float64) (form house.Shape, ok bool) {
	rise := c.Columns[columnRise][0]
	if length <= 0 || width <= 0 || wall < 0 {
		return form, stop(c, "a house's length and width must be above 0, and its wall not below 0")
	}
	if kind == "half_circle" {
		return house.HalfCircle(length, width, wall), true
	}
	if kind != "arch" && kind != "gable" {
		return form, stop(c, "a house's shape is half_circle, arch or gable")
	}
	switch gap, found := missing(rise); {
	case found:
		return form, skip(c, gap)
	case kind == "gable" && rise >= 0:
		return house.Gable(length, width, wall, rise), true
	case kind == "arch" && rise > 0:
		return house.Arch(length, width, wall, rise), true
	}
	return form, stop(c, "a roof rises above its wall: rise must not be below 0, for an arch not 0 either")
}

// readLoss gives the form of the house of this call and what it loses through
// its cover, ends in it, and with leaking air, W/K. Where ok is false the call has
// been ended.
func readLoss(c *formula.Call) (form house.Shape, cover, air float64, ok bool) {
	form, ok = readForm(c)
	if !ok {
		return
	}
	loss, ok := readCover(c, columnCover, array.Blank)
	if !ok {
		return form, 0, 0, false
	}
	ends, ok := readCover(c, columnEndCover, loss)
	if !ok {
		return form, 0, 0, false
	}
	changes := c.Columns[columnAirChanges][0]
	if gap, found := missing(loss, ends, changes); found {
		return form, 0, 0, skip(c, gap)
	}
	cover, air = loss*form.Cover+ends*form.Ends, house.AirLoss(changes, form.Volume)
	if loss < 0 || ends < 0 || changes < 0 || cover+air == 0 {
		return form, 0, 0, stop(c, "a house's losses and air_changes must not be below 0, nor all be 0")
	}
	return form, cover, air, true
}

// readCover gives what a cover loses, W/m2/K: its own loss, in the column after that
// of its kind, else that of its kind, else instead.
func readCover(c *formula.Call, kindColumn int, instead float64) (loss float64, ok bool) {
	loss, kind := c.Columns[kindColumn+1][0], c.Columns[kindColumn][0]
	switch {
	case !array.IsBlank(loss):
		return loss, true
	case array.IsBlank(kind) && array.IsBlank(instead):
		return 0, stop(c, "a house needs a cover or a loss")
	case array.IsBlank(kind):
		return instead, true
	case array.IsFault(kind):
		return kind, true
	}
	if loss, ok = house.CoverLoss(c.Word(kind)); !ok {
		return 0, stop(c, unknownCover)
	}
	return loss, true
}

// unknownCover is made once, for kernels do not allocate.
var unknownCover = "the cover's kind is not known; those known are " + coverWords() + "; or give the house's loss"

func runForm(c *formula.Call) {
	if form, ok := readForm(c); ok {
		c.Out[0][0], c.Out[1][0] = form.Surface(), form.Volume
	}
}

func runLoss(c *formula.Call) {
	_, cover, air, ok := readLoss(c)
	if !ok {
		return
	}
	// The list's parameter stands first and holds nothing.
	inside, outside := c.In[1][0], c.In[2][0]
	if gap, found := missing(inside, outside); found {
		skip(c, gap)
		return
	}
	c.Out[0][0] = (cover + air) * (inside - outside)
}
