package house_test

import (
	"fmt"

	"wintertruss/engine/model/house"
)

// A cold, clear January day in a house of 9 x 29 m under double film: the air
// the crop meets and the heat it takes come from one call.
func Example() {
	shape := house.Arch(29, 9, 1.2, 2.7)
	cover, _ := house.CoverLoss("double_poly")
	h := house.House{
		CoverLoss: cover * shape.Surface(),
		AirLoss:   house.AirLoss(house.AirChangesDoublePoly.Value, shape.Volume),
		SunArea:   shape.Floor * house.CoverPasses.Value * house.SunWarms.Value,
	}
	sky := house.SkyLight(42, 15)
	day := h.Day(house.Day{
		Low: -8, High: 1,
		Sun: house.ClearSun(sky, 0), Length: house.DayLength(42, 15),
		NightSet: 17, DaySet: 21, VentPoint: 26,
	})
	fmt.Printf("air %.1f degC, heat %.0f MJ, without sun %.0f MJ\n", day.Air, day.Heat, day.HeatNoSun)
	// Output: air 18.6 degC, heat 2830 MJ, without sun 3764 MJ
}
