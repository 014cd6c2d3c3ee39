package unit_test

import (
	"fmt"

	"wintertruss/engine/unit"
)

func Example() {
	s, err := unit.NewSystem([]string{"sachet"})
	if err != nil {
		fmt.Println(err)
		return
	}
	floor, _ := s.Parse("ft2")
	density, _ := s.Parse("plant/m2")
	product := s.Mul(floor, density)
	plant := s.Simplify(product)
	mul, _, _ := unit.Convert(product, plant)
	fmt.Printf("2880 ft2 at 2 plant/m2: %.1f %s\n", 2880*2*mul, plant)

	_, err = s.Parse("USD/pound")
	fmt.Println(err)
	// Output:
	// 2880 ft2 at 2 plant/m2: 535.1 plant
	// there is no unit "pound"; did you mean lb?
}
