package unit

// How a unit is shown to people of the other habit. Texts of whole units come
// first; a unit that is not there changes symbol by symbol, so that USD/gal
// becomes USD/L and plant/ft2 plant/m2. Common practice of the trade: what one
// meets on bags, tanks and bills. Electricity stays in kW and kWh everywhere.
var shown = map[string]struct{ wholes, symbols map[string]string }{
	"metric": {
		wholes: map[string]string{
			"degF": "degC", "BTU/h/ft2/degF": "W/m2/K", "BTU/h": "kW",
		},
		symbols: map[string]string{
			"lb": "kg", "oz": "g", "ton": "t",
			"in": "cm", "ft": "m", "acre": "ha",
			"gal": "L", "pint": "L", "cord": "m3",
			"BTU": "MJ", "therm": "MJ", "degF_diff": "K",
		},
	},
	"us": {
		wholes: map[string]string{
			"degC": "degF", "W/m2/K": "BTU/h/ft2/degF",
		},
		symbols: map[string]string{
			"kg": "lb", "g": "oz", "t": "ton",
			"mm": "in", "cm": "in", "m": "ft", "ha": "acre",
			"L": "gal", "MJ": "BTU", "degC_diff": "degF_diff", "K": "degF_diff",
		},
	},
}

// everywhere are symbols of light and of feed, whose units are the same the
// world over: mol/m2/d, mS/cm, mg/L, mmol/L. A unit with one of them stays.
var everywhere = map[string]bool{
	"mol": true, "mmol": true, "umol": true, "meq": true, "S": true, "mS": true, "mg": true, "ppm": true,
}

// Display gives the unit in which values of u are shown, of the same dimension:
// system is "us" or "metric"; any other leaves u as it is. Values go through
// Convert.
func (s *System) Display(u *Unit, system string) *Unit {
	to, ok := shown[system]
	if !ok || u.Beyond() {
		return u
	}
	if whole, ok := to.wholes[u.text]; ok {
		if w, err := s.Parse(whole); err == nil {
			return w
		}
	}
	if u.Absolute {
		return u
	}
	var atoms []atom
	for _, x := range u.atoms {
		if everywhere[x.name] {
			return u
		}
		of := []atom{{x.symbol, 1}}
		if text, ok := to.symbols[x.name]; ok {
			of, _ = s.product(text) // the texts above always read
		}
		atoms = join(atoms, of, x.n)
	}
	if v := s.intern(atoms); !v.Beyond() {
		return v
	}
	return u
}
