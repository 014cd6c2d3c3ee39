package graph_test

import (
	"fmt"
	"math"

	"wintertruss/engine/graph"
)

// A price and a weight, what the two bring in, that in whole dollars, and the
// tenth part of those. A weight that leaves the whole dollars as they were goes no further.
func Example() {
	names := []string{"price", "weight", "takings", "whole_dollars", "tenth"}
	reads := [][]int32{2: {0, 1}, 3: {2}, 4: {3}}
	value := []float64{2, 10, 0, 0, 0}

	g, err := graph.New(len(names), func(node int32, yield func(int32)) {
		for _, r := range reads[node] {
			yield(r)
		}
	})
	if err != nil {
		panic(err)
	}
	compute := func(node int32) bool {
		fmt.Print(" ", names[node])
		was := value[node]
		switch names[node] {
		case "takings":
			value[node] = value[0] * value[1]
		case "whole_dollars":
			value[node] = math.Floor(value[2])
		case "tenth":
			value[node] = value[3] / 10
		default:
			return true // an input was given its value from outside
		}
		return value[node] != was
	}
	fmt.Print("at first:")
	g.Run(compute)
	for _, weight := range []float64{10.2, 10.6} {
		value[1] = weight
		g.Touch(1)
		fmt.Printf("\n%v lb:", weight)
		c := g.Run(compute)
		fmt.Printf(" (%d computed, %d changed)", c.Recomputed, c.Changed)
	}

	err = g.Replace([]int32{1}, func(_ int32, yield func(int32)) { yield(3) })
	fmt.Printf("\n%v\n", err)
	// Output:
	// at first: price weight takings whole_dollars tenth
	// 10.2 lb: weight takings whole_dollars (3 computed, 2 changed)
	// 10.6 lb: weight takings whole_dollars tenth (4 computed, 4 changed)
	// nodes need each other: 1 -> 3 -> 2 -> 1
}
