package unit

import "math/big"

// symbol is one word of a unit.
type symbol struct {
	name   string
	of     powers   // its dimension, to the power 1
	dim    Dim      // the same, to be compared
	factor *big.Rat // size in base units: m, kg, s, K, mol, A, meq, 1 of a money or thing
	// inProduct is how the symbol is written beside others: degF for
	// degF_diff, else its name.
	inProduct string
}

// definition is a line of the table below: one of symbol is size of unit.
type definition struct {
	symbol, size, unit string
	base               string // letter of a base dimension, when the symbol is its measure
	source             string
}

// Where the sizes are fixed. All are exact by definition.
const (
	si      = "BIPM, The International System of Units (SI Brochure), 9th ed. 2019: tables 2 to 8"
	sp811   = "NIST Special Publication 811 (2008), appendix B.8; exact value from GNU units 2.22, definitions.units"
	steam   = "Fifth International Conference on the Properties of Steam, London 1956: calorie of 4.1868 J, so a BTU of 1.055 055 852 62 kJ; NIST SP 811 (2008), footnote to appendix B.8, from memory"
	culture = "common practice of the trade, stated on the book language's page"
	julian  = "IAU Style Manual 1989, from memory: the Julian year of 365.25 days; its twelfth is common practice"
)

// definitions hold every symbol that measures something, each explained by
// the ones before it. Their order is the one in which near words are offered.
var definitions = []definition{
	{symbol: "m", base: "L", source: si},
	{symbol: "kg", base: "M", source: si},
	{symbol: "s", base: "T", source: si},
	{symbol: "K", base: "K", source: si},
	{symbol: "mol", base: "N", source: si},
	{symbol: "A", base: "I", source: si}, // only to define S: no book has needed an ampere
	{symbol: "meq", base: "E", source: culture},

	{"%", "0.01", "1", "", si},
	{"deg", "1", "1", "", culture}, // an angle reaches the models in degrees

	{"cm", "0.01", "m", "", si},
	{"mm", "0.001", "m", "", si},
	{"in", "0.0254", "m", "", sp811},
	{"ft", "12", "in", "", sp811},
	{"ha", "10000", "m2", "", si},
	{"acre", "43560", "ft2", "", "NIST Handbook 44, appendix C, from memory: 43 560 square feet, of the international foot since 2023; value as in GNU units 2.22"},
	{"L", "0.001", "m3", "", si},
	{"mL", "0.001", "L", "", si},
	{"gal", "231", "in3", "", sp811},
	{"pint", "0.125", "gal", "", sp811},
	{"cord", "128", "ft3", "", sp811},

	{"g", "0.001", "kg", "", si},
	{"mg", "0.001", "g", "", si},
	{"lb", "0.45359237", "kg", "", sp811},
	{"oz", "0.0625", "lb", "", sp811},
	{"t", "1000", "kg", "", si},
	{"ton", "2000", "lb", "", sp811},

	{"min", "60", "s", "", si},
	{"h", "60", "min", "", si},
	{"d", "24", "h", "", si},
	{"week", "7", "d", "", si},
	{"year", "365.25", "d", "", julian},
	{"month", "30.4375", "d", "", julian},

	{"J", "1", "kg*m2/s2", "", si},
	{"W", "1", "J/s", "", si},
	{"kW", "1000", "W", "", si},
	{"Wh", "1", "W*h", "", si},
	{"kWh", "1000", "Wh", "", si},
	{"MJ", "1000000", "J", "", si},
	{"BTU", "1055.05585262", "J", "", steam},
	{"therm", "100000", "BTU", "", "100 000 International Table BTU, as the therm (EC) of NIST SP 811 (2008), appendix B.8; the US therm is 0.024 % smaller"},

	{"degC_diff", "1", "K", "", si},
	{"degF_diff", "5/9", "K", "", sp811},

	{"mmol", "0.001", "mol", "", si},
	{"umol", "0.000001", "mol", "", si},
	{"S", "1", "A2*s3/kg/m2", "", si},
	{"mS", "0.001", "S", "", si},
	{"ppm", "1", "mg/L", "", culture},
}

// scale is an absolute temperature: kelvins are (reading + zero) times the size
// of degree.
type scale struct {
	symbol, degree, zero string
	source               string
}

var scales = []scale{
	{"degC", "degC_diff", "273.15", si},
	{"degF", "degF_diff", "459.67", sp811},
}

// builtThings are counted in every book.
var builtThings = []string{"plant", "stem", "truss", "node", "flower", "fruit", "bag", "hive", "card", "piece"}

// rational reads an exact number of the tables above.
func rational(s string) *big.Rat {
	r, ok := new(big.Rat).SetString(s)
	if !ok {
		panic("unit: " + s + " is not a number") // a slip in the tables; every test would meet it
	}
	return r
}
