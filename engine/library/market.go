package library

import (
	"math"
	"strings"

	"wintertruss/engine/array"
	"wintertruss/engine/formula"
	"wintertruss/engine/model/market"
)

// marketFunctions gives the functions that sell a week's crop: one kernel, which
// works on one week at a time, two outputs.
func marketFunctions() []formula.Function {
	params := []formula.Param{
		{Name: "offer", Says: "the list of offers, each one way to sell one crop", Takes: formula.ListName},
		{Name: "to_sell", Says: "what there is to sell of each crop in the week", Unit: "kg", Whole: []string{"via crop"}},
	}
	list := []string{"list"}
	zero, blank := 0.0, array.Blank
	kernel := &formula.Kernel{
		Name: "split",
		Columns: []formula.Column{
			{Name: "crop", Takes: formula.Words, Whole: list},
			{Name: "price", Unit: "money/kg", Whole: list},
			{Name: "volume", Unit: "kg", Whole: list},
			{Name: "response", Unit: "1", Whole: list, Default: &zero},
			{Name: "kind", Takes: formula.Words, Whole: list, Default: &blank},
			{Name: "fee", Unit: "1", Whole: list, Default: &zero},
			{Name: "selling", Unit: "money/kg", Whole: list, Default: &zero},
			{Name: "reference", Unit: "money/kg", Whole: list, Default: &blank},
		},
		Results: []formula.Result{
			{Unit: "kg", Whole: list},
			{Unit: "kg", Whole: []string{"via crop"}},
		},
		Run: runSplit,
	}
	const (
		columns = "Columns of the list: crop (names the list of crops); price; volume (what it takes in a week at the reference price); " +
			"response (price elasticity, such as -1.5; 0 when left out); kind (open: takes more at a lower price; given: the buyer names price and largest volume; open when left out); " +
			"fee (share of the price the channel keeps; none); selling (cost of selling and packing a unit; none); reference (the price at which the volume was seen; the price itself). "
		how = "At the prices that stand, the offer that leaves most per unit after fee and selling is served first, up to what it takes; none that leaves less than nothing. " +
			"No other split of the week's crop earns more at these prices."
		valid = "An open offer takes volume x (price / reference) ^ response; believe it near the prices that were tried. Where two leave the same, the earlier in the list comes first. " +
			"An offer with no price, volume, fee or selling known that week is blank and gets nothing; an offer out of season has volume 0. " +
			"Below zero no price, volume or reference is taken, nor a response above zero, nor a fee outside 0 % to below 100 %."
		source = "Dantzig, 1957, Discrete-variable extremum problems, Operations Research 5 (best ratio first is optimal; from memory); demand of constant elasticity: definition"
	)
	example := func(line string, want float64) formula.Example {
		return formula.Example{Book: strings.Join([]string{
			"```settings",
			"title    : Two offers",
			"season   : 2026-W33 .. 2027-W32",
			"currency : USD",
			"```",
			"```list crop",
			"         | label",
			"tomato   | Tomato",
			"cucumber | Cucumber",
			"```",
			"```list offer",
			"       | crop   | price USD/kg | volume kg | response | kind  | fee  | selling USD/kg | reference USD/kg",
			"grocer | tomato | 3.00         | 100       | 0        | given | 0 %  | 0.10           | 3.00",
			"stall  | tomato | 4.00         | 40        | -1       | open  | 5 %  | 0.20           | 5.00",
			"```",
			"```lines",
			"to_sell over crop : 160, 30 kg",
			line,
			"```",
			"",
		}, "\n"), Ask: "seen", Want: []float64{want}}
	}
	return []formula.Function{{
		Name: "split",
		Card: formula.Card{
			Family: marketFamily,
			Says:   "What each offer is sold of a week's crop. " + how,
			Gives:  "kg, over the list of offers, and over week where prices, volumes or what there is to sell are",
			Valid:  columns + valid,
			Source: source,
			// The stall takes 40 x (4/5)^-1 = 50 at a net of 3.60 and comes before the
			// grocer, whose net is 2.90.
			Example: example(`seen = only(split(offer, to_sell), "stall") -> kg`, 50),
		},
		Params: params, Kernel: kernel, Output: 0,
	}, {
		Name: "left_over",
		Card: formula.Card{
			Family:  marketFamily,
			Says:    "What is left of each crop when split has served the offers; with what was sold it adds up to what there was.",
			Gives:   "kg, over the list of crops, and over week where prices, volumes or what there is to sell are",
			Valid:   columns + valid,
			Source:  source,
			Example: example(`seen = only(left_over(offer, to_sell), "tomato") -> kg`, 10),
		},
		Params: params, Kernel: kernel, Output: 1,
	}}
}

// offerKind is said where the column kind holds another word.
const offerKind = "the kind of an offer is open or given"

// offers is one week of the list of offers, column by column.
type offers struct{ crop, price, volume, response, kind, fee, selling, reference []float64 }

// runSplit fills what each offer is sold and what is left of each crop. The
// numbers of the column crop are indices of the members of the list it names,
// which are the cells of to_sell.
func runSplit(c *formula.Call) {
	o := offers{c.Columns[0], c.Columns[1], c.Columns[2], c.Columns[3], c.Columns[4], c.Columns[5], c.Columns[6], c.Columns[7]}
	toSell, sold, left := c.In[1], c.Out[0], c.Out[1]
	members := len(o.crop)
	scratch := c.Scratch(4 * members)
	net, takes, gets, row := scratch[:members], scratch[members:2*members], scratch[2*members:3*members], scratch[3*members:]

	for i := range sold {
		sold[i] = array.Blank
	}
	for crop := range toSell {
		n := 0 // offers for this crop
		fault := toSell[crop]
		for i := range members {
			if o.crop[i] != float64(crop) {
				continue
			}
			x, y, why := o.at(i, c.Word)
			switch {
			case why != "":
				c.Refuse(why)
				return
			case array.IsFault(x):
				fault = x
			case math.IsNaN(x):
				continue
			}
			net[n], takes[n], row[n] = x, y, float64(i)
			n++
		}
		if math.IsNaN(fault) { // who gets what cannot be told
			left[crop] = fault
			for _, i := range row[:n] {
				sold[int(i)] = fault
			}
			continue
		}
		left[crop] = market.Split(net[:n], takes[:n], toSell[crop], gets[:n])
		for k, i := range row[:n] {
			sold[int(i)] = gets[k]
		}
	}
}

// at gives what offer i leaves per unit sold and the most it takes; both blank,
// or a fault, when a figure of it is; or why it is no offer.
func (o *offers) at(i int, word func(float64) string) (net, takes float64, why string) {
	price, volume, response, fee, selling, reference := o.price[i], o.volume[i], o.response[i], o.fee[i], o.selling[i], o.reference[i]
	switch word(o.kind[i]) {
	case "given":
		response = 0
	case "open", "":
	default:
		return 0, 0, offerKind
	}
	if array.IsBlank(reference) {
		reference = price
	}
	// A sum is a fault when a part is, and else blank when a part is.
	if all := price + volume + response + fee + selling + reference; math.IsNaN(all) {
		for _, x := range [...]float64{price, volume, response, fee, selling, reference} {
			if array.IsFault(x) {
				return x, x, ""
			}
		}
		return array.Blank, array.Blank, ""
	}
	switch {
	case price < 0:
		return 0, 0, market.ErrPrice.Error()
	case !(fee >= 0 && fee < 1):
		return 0, 0, market.ErrFee.Error()
	case volume < 0:
		return 0, 0, market.ErrVolume.Error()
	case response > 0:
		return 0, 0, market.ErrResponse.Error()
	}
	net = market.Net(price, fee, selling)
	if response == 0 {
		return net, volume, ""
	}
	if !(reference > 0) {
		return 0, 0, market.ErrNoPrice.Error()
	}
	return net, market.Constant{Price: reference, Volume: volume, Response: response}.Quantity(price), ""
}
