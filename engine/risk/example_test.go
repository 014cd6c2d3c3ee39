package risk_test

import (
	"fmt"

	"wintertruss/engine/risk"
)

// Two unsure inputs, one result: its band over the draws and a verdict.
func Example() {
	set, _ := risk.NewRange(0.70, 0.78, 0.85, risk.Share) // 78 % (70..85)
	price, _ := risk.NewRange(3.2, 4, 4.6, risk.Positive) // 4.00 (3.20..4.60) USD/lb
	const draws = 1024
	u, v := make([]float64, draws), make([]float64, draws)
	risk.Key{Seed: 1, Name: "set_share"}.Uniforms(0, u)
	risk.Key{Seed: 1, Name: "price"}.Uniforms(0, v)
	margin, pays := make([]float64, draws), make([]float64, draws)
	for i := range margin {
		margin[i] = 3000*set.Quantile(u[i])*price.Quantile(v[i]) - 8000
		if margin[i] > 0 {
			pays[i] = 1
		}
	}
	band := risk.Bands(margin, 0.1, 0.9)
	word, of20, _ := risk.Earn(pays).Verdict()
	fmt.Printf("%.0f to %.0f USD; pays: %s, %d of 20 seasons\n", band[0], band[1], word, of20)
	// Output: -785 to 2989 USD; pays: Very likely, 16 of 20 seasons
}
