package market_test

import (
	"fmt"

	"wintertruss/engine/model/market"
)

// A stall asks 4.00 and keeps nothing; a shop sells at 5.00 and keeps 30 %. With
// 60 kg picked the stall's 40 kg go first.
func Example() {
	net := []float64{market.Net(4.00, 0, 0.10), market.Net(5.00, 0.30, 0.22)}
	sold := make([]float64, 2)
	left := market.Split(net, []float64{40, 100}, 60, sold)
	fmt.Printf("net %.2f %.2f\nsold %v, left %v\n", net[0], net[1], sold, left)
	// Output:
	// net 3.90 3.28
	// sold [40 20], left 0
}
