package money

// Income is a farm year as a lender reads it. All in money per year.
type Income struct {
	NetFarm      float64 // net farm income, after depreciation and interest
	Depreciation float64 // taken off in NetFarm though no money left
	OffFarm      float64 // income from elsewhere
	TermInterest float64 // interest on term debt, taken off in NetFarm
	Living       float64 // family living
	Tax          float64 // income and social taxes
}

// Capacity is the capital debt repayment capacity, in money per year: what is
// left to pay principal and interest of term debt with. Source: Farm Financial
// Standards Council, Financial Guidelines for Agriculture, as quoted by
// Langemeier 2019; Michigan State University Extension, Financial Ratios part 13.
func (i Income) Capacity() float64 {
	return i.NetFarm + i.Depreciation + i.OffFarm + i.TermInterest - i.Living - i.Tax
}

// TermDebtCover is capacity over the principal and interest of term debt that
// fall due in the year (both money). Error: nothing falls due.
func TermDebtCover(capacity, due float64) (float64, error) {
	if !(due > 0) {
		return 0, ErrDebtDue
	}
	return capacity / due, nil
}

// RepaymentMargin is what is left of capacity when term debt is paid (money).
func RepaymentMargin(capacity, due float64) float64 { return capacity - due }
