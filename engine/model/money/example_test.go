package money_test

import (
	"fmt"

	"wintertruss/engine/model/money"
)

// A loan of 100,000 at 5 % over five years, one payment a year.
func Example() {
	rows, err := money.Terms{Amount: 100_000_00, YearlyRate: money.Rate{Numerator: 5, Denominator: 100}, Payments: 5, PerYear: 1}.Schedule()
	if err != nil {
		fmt.Println(err)
		return
	}
	for _, r := range rows {
		fmt.Println(r.Number, r.Interest.StringFixed(2), r.Principal.StringFixed(2), r.Payment.StringFixed(2), r.Balance.StringFixed(2))
	}
	// Output:
	// 1 5000.00 18097.48 23097.48 81902.52
	// 2 4095.13 19002.35 23097.48 62900.17
	// 3 3145.01 19952.47 23097.48 42947.70
	// 4 2147.39 20950.09 23097.48 21997.61
	// 5 1099.88 21997.61 23097.49 0.00
}
