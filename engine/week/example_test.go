package week_test

import (
	"fmt"

	"wintertruss/engine/week"
)

func Example() {
	first, _ := week.ParseWeek("2026-W33")
	last, _ := week.ParseWeek("2027-W32")
	season, err := week.NewSeason(first, last)
	if err != nil {
		fmt.Println(err)
		return
	}
	asOf, _ := week.ParseDay("2027-03-10")
	standing := week.NewStanding(season, asOf, nil)
	open := season.At(standing.Open())
	fmt.Println(season.Len(), "weeks, open:", open, "from", open.Monday(), "of", open.Month())

	_, err = week.ParseWeek("2027-W53")
	fmt.Println(err)
	// Output:
	// 53 weeks, open: 2027-W10 from 2027-03-08 of 2027-03
	// "2027-W53": there is no week 53, the last week of 2027 is 2027-W52
}
