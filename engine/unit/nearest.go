package unit

import (
	"strings"
	"unicode/utf8"
)

// words are what people say or write for a unit, in lower case, one in many
// spellings a line: the unit, then the words for it. Plurals in -s are found
// without standing here.
const words = `
	lb pound lbm #
	oz ounce
	ton tons short_ton
	t tonne metric_ton
	kg kilo kilogram kilogramme kgs
	g gram gramme gr gm
	mg milligram
	gal gallon galls
	pint pt
	L liter litre ltr ℓ
	mL milliliter millilitre cc
	ft foot feet '
	in inch inches "
	m meter metre mtr
	cm centimeter centimetre
	mm millimeter millimetre
	ft2 sqft sf sq_ft square_foot square_feet ft²
	m2 sqm sq_m square_meter square_metre m²
	ft3 cuft cf cu_ft cubic_foot cubic_feet ft³
	m3 cubic_meter cubic_metre m³
	ha hectare
	acre ac
	s second sec
	min minute
	h hour hr
	d day
	week wk
	month mo
	year yr annum
	W watt
	kW kilowatt
	Wh watt_hour
	kWh kilowatt_hour
	J joule
	MJ megajoule
	BTU british_thermal_unit
	degF °f ºf ℉ f fahrenheit deg_f
	degC °c ºc ℃ c celsius centigrade deg_c
	K kelvin °k
	deg ° º degree
	mol mole
	mmol millimole
	umol µmol μmol micromole
	S siemens
	meq milliequivalent
	% percent per_cent pct
	USD $ us$ dollar
	EUR € euro
	GBP £ pound_sterling
	JPY ¥ yen`

// spoken leads from such a word to its unit.
var spoken = func() map[string]string {
	m := map[string]string{}
	for line := range strings.SplitSeq(strings.TrimSpace(words), "\n") {
		fields := strings.Fields(line)
		for _, word := range fields[1:] {
			m[word] = fields[0]
		}
	}
	return m
}()

// nearest gives the unit that was probably meant by a word; "" when nothing
// is near.
func (s *System) nearest(word string) string {
	symbols := s.Symbols()
	// Slips of case: Kg, usd, btu.
	for _, name := range symbols {
		if strings.EqualFold(name, word) {
			return name
		}
	}
	lower := strings.ToLower(strings.Join(strings.Fields(word), "_"))
	lower = strings.TrimSuffix(lower, ".")
	// Words and plurals: pounds, gallon, plants, trusses.
	for _, form := range []string{lower, strings.TrimSuffix(lower, "s"), strings.TrimSuffix(lower, "es")} {
		if u := spoken[form]; u != "" {
			return u
		}
		for _, name := range symbols {
			if strings.EqualFold(name, form) {
				return name
			}
		}
	}
	if small := strings.NewReplacer("²", "2", "³", "3").Replace(word); small != word {
		if _, err := s.product(small); err == nil {
			return small
		}
	}
	return s.nearSpelling(word, lower)
}

// nearSpelling gives the symbol, or the unit of the spoken word, that is the
// fewest slips away: one slip in a word of three or four letters, two in a
// longer one, none in a shorter one, where any word would be near any other.
func (s *System) nearSpelling(word, lower string) string {
	length := utf8.RuneCountInString(word)
	best := 1 + map[bool]int{true: 2, false: 1}[length > 4]
	if length < 3 || length > 24 {
		return ""
	}
	found := ""
	try := func(written, known, means string) {
		if n := slips(written, known); n < best && len(known) > 2 {
			best, found = n, means
		}
	}
	for _, name := range s.Symbols() {
		if s.isMoney(name) {
			// Codes lie close together: one slip, and written as a code.
			if length == 3 && word == strings.ToUpper(word) {
				try(word, name, name)
			}
			continue
		}
		try(lower, strings.ToLower(name), name)
	}
	for line := range strings.SplitSeq(strings.TrimSpace(words), "\n") { // in the order of the text, not of a map
		fields := strings.Fields(line)
		for _, known := range fields[1:] {
			try(lower, known, fields[0])
		}
	}
	return found
}

func (s *System) isMoney(name string) bool {
	x := s.symbols[name]
	if x == nil {
		return false
	}
	_, kind := x.dim.single()
	return kind == isMoney
}

// slips counts the letters to add, drop, change or swap with their neighbour to
// make a into b (the optimal string alignment distance).
func slips(a, b string) int {
	x, y := []rune(a), []rune(b)
	rows := make([][]int, len(x)+1)
	for i := range rows {
		rows[i] = make([]int, len(y)+1)
		rows[i][0] = i
	}
	for j := range rows[0] {
		rows[0][j] = j
	}
	for i := 1; i <= len(x); i++ {
		for j := 1; j <= len(y); j++ {
			change := 1
			if x[i-1] == y[j-1] {
				change = 0
			}
			n := min(rows[i-1][j]+1, rows[i][j-1]+1, rows[i-1][j-1]+change)
			if i > 1 && j > 1 && x[i-1] == y[j-2] && x[i-2] == y[j-1] {
				n = min(n, rows[i-2][j-2]+1)
			}
			rows[i][j] = n
		}
	}
	return rows[len(x)][len(y)]
}
