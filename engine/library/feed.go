package library

import (
	"math"
	"strings"

	"wintertruss/engine/array"
	"wintertruss/engine/formula"
	"wintertruss/engine/model/feed"
)

const feedFamily = "water and feed"

// feedCaution stands on every card that leads to a strong solution.
const feedCaution = " Caution: strong solutions and acids burn eyes and skin; gloves and goggles, and the labels rule. Acid goes into water, never water into acid."

// feedFunctions turn a recipe into salts, and say what the feed then holds.
func feedFunctions() []formula.Function {
	return []formula.Function{saltsFor, saltShare, stockStrength, dissolves, conductivity, acidNeeded, acidBrings}
}

// feedBook is the book of the examples: the recipe of the University of Arizona.
func feedBook(lines ...string) string {
	return strings.ReplaceAll(`'''settings
season   : 2026-W40 .. 2027-W20
currency : USD
'''
'''list element
           | label      | kind       | recipe ppm | well ppm
nitrogen   | Nitrogen   | nitrogen   | 189        | 0
phosphorus | Phosphorus | phosphorus | 39         | 0
potassium  | Potassium  | potassium  | 341        | 0
calcium    | Calcium    | calcium    | 170        | 0
magnesium  | Magnesium  | magnesium  | 48         | 0
'''
'''list salt
          | label                  | kind                    | brings -> element | tank
lime      | Calcium nitrate        | calcium_nitrate         | calcium           | tank_a
nitre     | Potassium nitrate      | potassium_nitrate       | nitrogen          | tank_a
phosphate | Monopotassium phosphate | monopotassium_phosphate | phosphorus        | tank_b
sulfate   | Potassium sulfate      | potassium_sulfate       | potassium         | tank_b
epsom     | Epsom salt             | epsom                   | magnesium         | tank_b
'''
'''lines
`+strings.Join(lines, "\n")+"\n'''\n", "'''", "```")
}

// saltWords and elementWords list what is known, for cards and refusals.
var (
	saltWords    = strings.Join(feed.Salts(), ", ")
	elementWords = strings.Join(feed.Elements[:], ", ")

	unknownSalt    = "a salt's kind is not known; those known are " + saltWords
	unknownElement = "an element's kind is not known; those known are " + elementWords
	unknownAcid    = "an acid's kind is not known; those known are " + strings.Join(feed.Acids[:], ", ")
)

const masses = "IUPAC abridged atomic masses 2021, from memory, and labels: calcium nitrate of fertiliser grade 15.5 % nitrogen and 19 % calcium"

var saltsFor = formula.Function{
	Name: "salts_for",
	Card: formula.Card{
		Family: feedFamily,
		Says: "The salts to dissolve for a recipe: those that come nearest to it, each element missed by the same share of its figure, with none taken out again. Where the salts can make the recipe, they make it exactly; " +
			"what they cannot make is short or over, and total(strength * salt_share(...)) says by how much, element by element. Reads from the list of salts: kind, and brings (the element it is bought for)." + feedCaution,
		Gives: "g/L of feed water, over the list of salts and the other axes of the recipe: a recipe may change from week to week",
		Valid: "An element that no salt is said to bring, or whose recipe is blank, is not aimed at and comes as it falls (sulfur, mostly). A salt without a kind, or that brings nothing, is not used. " +
			"Nothing is put in of what the water already holds. Kinds of salts: " + saltWords + ". Have a laboratory test the water, and the feed once.",
		Source: "Lawson & Hanson 1974, Solving Least Squares Problems, chapter 23 (from memory); shares: " + masses,
		Example: formula.Example{
			Book: feedBook("strength = salts_for(salt, element.kind, element.recipe, element.well) -> g/L",
				`lime = only(strength, "lime") -> g/L // 170 ppm of calcium over 19 %`),
			Ask: "lime", Want: []float64{0.894737},
		},
		Table: &formula.Table{
			Title: "Recipes for tomatoes", Heads: []string{"recipe", "nitrogen, ppm", "phosphorus, ppm", "potassium, ppm", "calcium, ppm", "magnesium, ppm"},
			Of: []string{"University of Arizona", "Cornell University"}, Rows: [][]float64{{189, 39, 341, 170, 48}, {210, 31, 235, 200, 49}},
			Source: "both as quoted at ompathare.com",
		},
	},
	Params: []formula.Param{
		{Name: "salt", Says: "the list of salts", Takes: formula.ListName},
		{Name: "element", Says: "kind of each element, over the list that brings refers to", Takes: formula.Words, Whole: []string{"via brings"}},
		{Name: "recipe", Says: "what the feed should hold of each element", Unit: "mg/L", Whole: []string{"via brings"}},
		{Name: "water_brings", Says: "what the water, and an acid, bring of it; left out or blank, nothing", Unit: "mg/L", Whole: []string{"via brings"}, Optional: true},
	},
	Kernel: &formula.Kernel{
		Name: "salts for a recipe",
		Columns: []formula.Column{
			{Name: "kind", Takes: formula.Words, Whole: []string{"list"}},
			{Name: "brings", Takes: formula.Words, Whole: []string{"list"}},
		},
		Results: []formula.Result{{Unit: "mg/L", Whole: []string{"list"}}},
		Run:     runSaltsFor,
	},
}

// elementOf reads the kind of an element; if it is none, the call has ended.
func elementOf(c *formula.Call, word float64) (feed.Element, bool) {
	element, known := feed.ElementOf(c.Word(word))
	return element, known || stop(c, unknownElement)
}

func runSaltsFor(c *formula.Call) {
	kinds, brings := c.Columns[0], c.Columns[1]
	words, recipe, water := c.In[1], c.In[2], c.In[3]
	if len(kinds) > feed.MostSalts || len(words) > feed.MostElements {
		c.Refuse("a feed is mixed of 24 salts and 24 elements at most")
		return
	}
	n := len(kinds)
	share, add, aim := c.Scratch(n*len(words)), c.Scratch(len(words)), c.Scratch(len(words))
	for e := range words {
		aim[e] = array.Blank // until a salt is said to bring it
	}
	for s, kind := range kinds {
		if kind != kind || brings[s] != brings[s] {
			continue
		}
		salt, known := feed.SaltOf(c.Word(kind))
		if !known {
			c.Refuse(unknownSalt)
			return
		}
		for e, word := range words {
			if word != word {
				continue
			}
			element, known := elementOf(c, word)
			if !known {
				return
			}
			share[e*n+s] = salt.Share(element)
		}
		e := int(brings[s])
		if share[e*n+s] == 0 {
			c.Refuse("a salt is said to bring an element that it does not hold")
			return
		}
		aim[e] = recipe[e]
	}
	for e := range words {
		held := given(water[e], 0)
		if recipe[e] < 0 || held < 0 {
			c.Refuse("neither a recipe nor what the water brings is below 0")
			return
		}
		add[e] = recipe[e] - held
	}
	feed.Dose(share, add, aim, c.Out[0])
}

var saltShare = formula.Function{
	Name: "salt_share",
	Card: formula.Card{
		Family: feedFamily,
		Says:   "What part of a salt's weight an element is: by its formula, or by the label of the grade. total(strength * salt_share(salt.kind, element.kind), salt) is what the salts bring of each element.",
		Gives:  "a share, 0 to 1, over the axes of both: every salt with every element",
		Valid:  "Kinds of salts: " + saltWords + ". Elements: " + elementWords + "; ammonium is the part of nitrogen that comes as ammonium. Your bag's label rules; labels give phosphorus and potassium as oxides: P is 0.4364 of P2O5, K 0.8301 of K2O.",
		Source: masses,
		Example: formula.Example{
			Lines: []string{"bag : potassium_sulfate", "wanted : potassium", "part = salt_share(bag, wanted) -> % // 2 x 39.098 of 174.252"},
			Ask:   "part", Want: []float64{44.8752},
		},
		Table: shareTable(),
	},
	Params: []formula.Param{
		{Name: "salt", Says: "kind of the salt", Takes: formula.Words},
		{Name: "element", Says: "kind of the element", Takes: formula.Words},
	},
	Kernel: &formula.Kernel{
		Name:    "salt share",
		Results: []formula.Result{{Unit: "1"}},
		Run: func(c *formula.Call) {
			if gap, found := missing(c.In[0][0], c.In[1][0]); found {
				skip(c, gap)
				return
			}
			salt, known := feed.SaltOf(c.Word(c.In[0][0]))
			if !known {
				c.Refuse(unknownSalt)
				return
			}
			element, known := elementOf(c, c.In[1][0])
			if !known {
				return
			}
			c.Out[0][0] = salt.Share(element)
		},
	},
}

// shareTable draws what the usual salts hold.
func shareTable() *formula.Table {
	elements := []feed.Element{feed.Nitrogen, feed.Phosphorus, feed.Potassium, feed.Calcium, feed.Magnesium, feed.Sulfur}
	t := &formula.Table{Title: "What the usual salts hold, of their weight", Heads: []string{"salt"}, Of: feed.Salts()[:9], Source: masses}
	for _, e := range elements {
		t.Heads = append(t.Heads, feed.Elements[e]+", %")
	}
	for _, word := range t.Of {
		salt, _ := feed.SaltOf(word)
		var row []float64
		for _, e := range elements {
			part := array.Blank // none
			if share := salt.Share(e); share > 0 {
				part = math.Round(1e4*share) / 100
			}
			row = append(row, part)
		}
		t.Rows = append(t.Rows, row)
	}
	return t
}

var stockStrength = formula.Function{
	Name: "stock_strength",
	Card: formula.Card{
		Family: feedFamily,
		Says: "How much of each salt goes into a litre of the strong solution that the injector thins: strength x parts. It refuses two salts in one tank of which one brings calcium and the other sulfate or phosphate: " +
			"they fall out as mud and plug the lines. Reads from the list of salts: kind, and tank (any words of yours, such as tank_a and tank_b)." + feedCaution,
		Gives:  "g/L of strong solution, over the list of salts and the other axes of the strength",
		Valid:  "Parts above 0. A salt without a tank is kept out of both. Whether so much dissolves is on the card of dissolves.",
		Source: "definition; what may not meet: common practice, as in e-GRO's steps of mixing",
		Example: formula.Example{
			Book: feedBook("strength = salts_for(salt, element.kind, element.recipe) -> g/L", "mix_ratio : 100",
				`lime = only(stock_strength(salt, strength, mix_ratio), "lime") -> g/L`),
			Ask: "lime", Want: []float64{89.4737},
		},
	},
	Params: []formula.Param{
		{Name: "salt", Says: "the list of salts", Takes: formula.ListName},
		{Name: "strength", Says: "what the feed holds of each", Unit: "mg/L", Whole: []string{"list"}},
		{Name: "parts", Says: "parts of water to one of strong solution", Unit: "1"},
	},
	Kernel: &formula.Kernel{
		Name: "stock strength",
		Columns: []formula.Column{
			{Name: "kind", Takes: formula.Words, Whole: []string{"list"}},
			{Name: "tank", Takes: formula.Words, Whole: []string{"list"}},
		},
		Results: []formula.Result{{Unit: "mg/L", Whole: []string{"list"}}},
		Run:     runStockStrength,
	},
}

func runStockStrength(c *formula.Call) {
	kinds, tanks, strength, parts := c.Columns[0], c.Columns[1], c.In[1], c.In[2][0]
	if gap, found := missing(parts); found {
		skip(c, gap)
		return
	}
	if parts <= 0 {
		c.Refuse("the parts of water to one of strong solution are above 0")
		return
	}
	for i, kind := range kinds {
		c.Out[0][i] = strength[i] * parts
		if kind != kind || tanks[i] != tanks[i] {
			continue
		}
		salt, known := feed.SaltOf(c.Word(kind))
		if !known {
			c.Refuse(unknownSalt)
			return
		}
		for j, other := range kinds[:i] {
			if other == other && tanks[j] == tanks[i] {
				if met, known := feed.SaltOf(c.Word(other)); known && feed.Clash(salt, met) {
					c.Refuse("a salt of calcium shares a tank with a sulfate or a phosphate: they fall out as mud; put one of them into the other tank")
					return
				}
			}
		}
	}
}

var dissolves = formula.Function{
	Name: "dissolves",
	Card: formula.Card{
		Family: feedFamily,
		Says:   "How much of a salt a litre of water at 20 degC takes: a strong solution stays well below it, as salts that share a tank leave each other less room, and a cold tank less still.",
		Gives:  "g/L, over the axes of the salt; blank where it is not known here",
		Valid:  "Pure water at 20 degC, one salt by itself. Potassium sulfate is the one that sets the limit: 111 g/L. From memory: have it checked before you go near it." + feedCaution,
		Source: "handbooks of chemistry, from memory",
		Example: formula.Example{
			Lines: []string{"bag : potassium_sulfate", "most = dissolves(bag) -> g/L"},
			Ask:   "most", Want: []float64{111},
		},
	},
	Params: []formula.Param{{Name: "salt", Says: "kind of the salt", Takes: formula.Words}},
	Kernel: &formula.Kernel{
		Name:    "dissolves",
		Results: []formula.Result{{Unit: "g/L"}},
		Run: func(c *formula.Call) {
			if gap, found := missing(c.In[0][0]); found {
				skip(c, gap)
				return
			}
			salt, known := feed.SaltOf(c.Word(c.In[0][0]))
			if !known {
				c.Refuse(unknownSalt)
				return
			}
			if most, known := salt.Dissolves(); known {
				c.Out[0][0] = most
			}
		},
	},
}
