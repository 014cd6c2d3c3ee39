package money

import "wintertruss/engine/fact"

// Ratios by which a lender reads a farm. Each is a plain function of the balance sheet
// or of the year; each has a band, and where the band is from stands with it. Bands are
// habits of lenders: the lender's own go before them.

const (
	scorecard = "Cornell Small Farms Program, financial scorecard"
	msue      = "Michigan State University Extension, Financial Ratios"
)

// The edges of weak and of strong.
var (
	CurrentRatioWeak   = fact.New(fact.Fact{Name: "current ratio that is weak below", Value: 1.3, Unit: "1", Low: 1.3, High: 1.3, Source: scorecard, Place: "current ratio", Known: fact.Read})
	CurrentRatioStrong = fact.New(fact.Fact{Name: "current ratio that is strong above", Value: 2, Unit: "1", Low: 2, High: 2, Source: scorecard, Place: "current ratio", Known: fact.Read})
	DebtToAssetWeak    = fact.New(fact.Fact{Name: "debt to asset that is weak above", Value: 60, Unit: "%", Low: 50, High: 60, Source: scorecard, Place: "debt to asset", Known: fact.Read})
	DebtToAssetStrong  = fact.New(fact.Fact{Name: "debt to asset that is strong below", Value: 30, Unit: "%", Low: 30, High: 30, Source: scorecard, Place: "debt to asset", Known: fact.Read})
	ExpenseRatioWeak   = fact.New(fact.Fact{Name: "operating expense ratio that is weak above", Value: 80, Unit: "%", Low: 80, High: 80, Source: msue, Place: "part 18 of 21", Known: fact.Read})
	ExpenseRatioStrong = fact.New(fact.Fact{Name: "operating expense ratio that is strong below", Value: 60, Unit: "%", Low: 60, High: 60, Source: msue, Place: "part 18 of 21", Known: fact.Read})
	CoverWeak          = fact.New(fact.Fact{Name: "term-debt cover that is weak below", Value: 1.25, Unit: "1", Low: 1.1, High: 1.25, Source: "Farm Financial Standards Council, Financial Guidelines for Agriculture", Known: fact.Memory})
	CoverStrong        = fact.New(fact.Fact{Name: "term-debt cover that is strong above", Value: 1.75, Unit: "1", Low: 1.5, High: 1.75, Source: "Farm Financial Standards Council, Financial Guidelines for Agriculture", Known: fact.Memory})
)

// CurrentRatio is current assets over current liabilities (both money). Error: nothing
// is owed within the year.
func CurrentRatio(assets, liabilities float64) (float64, error) {
	if !(liabilities > 0) {
		return 0, ErrCurrent
	}
	return assets / liabilities, nil
}

// WorkingCapital is current assets less current liabilities, in money.
func WorkingCapital(assets, liabilities float64) float64 { return assets - liabilities }

// DebtToAsset is all liabilities over all assets (both money), a share. Error: no assets.
func DebtToAsset(liabilities, assets float64) (float64, error) {
	if !(assets > 0) {
		return 0, ErrAssets
	}
	return liabilities / assets, nil
}

// Efficiency takes the gross revenue of a year apart into shares of it that add up to
// one: operating expense (without interest and depreciation), depreciation, interest and
// what is left. All arguments are money in the year. Source: Michigan State University
// Extension, Financial Ratios, part 18. Error: no revenue.
func Efficiency(revenue, operating, depreciation, interest float64) (shares struct{ Operating, Depreciation, Interest, Income float64 }, err error) {
	if !(revenue > 0) {
		return shares, ErrNoSales
	}
	shares.Operating, shares.Depreciation, shares.Interest = operating/revenue, depreciation/revenue, interest/revenue
	shares.Income = (revenue - operating - depreciation - interest) / revenue
	return shares, nil
}
