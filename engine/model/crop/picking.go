package crop

// From ripe fruit to picked fruit. A grower picks on certain days, and not all:
// what is missed hangs on to the next pick, and part of it goes soft or splits
// meanwhile. Plants die in the course of a season, with all that hangs on them.

// Weekdays are the short names of the days of a week, Monday first.
var Weekdays = [WeekDays]string{"Mon", "Tue", "Wed", "Thu", "Fri", "Sat", "Sun"}

// PickShare gives the share of a steady week's ripe fruit that is picked on day
// (0 Monday to 6 Sunday), where days says on which days there is a pick: the days
// since the pick before, of seven. A pick takes what is ripe by its evening. 0 on
// days without a pick; the shares of a week add up to 1, if there is a pick.
func PickShare(days [WeekDays]bool, day int) float64 {
	if !days[day] {
		return 0
	}
	since := 1
	for !days[(day+WeekDays-since)%WeekDays] {
		since++
	}
	return float64(since) / WeekDays
}

// UnpickedDays gives the days of a week that follow its last pick, whose ripe
// fruit wait for the next week: 0 with a pick on Sunday, 7 without any pick.
func UnpickedDays(days [WeekDays]bool) float64 {
	for day := WeekDays - 1; day >= 0; day-- {
		if days[day] {
			return float64(WeekDays - 1 - day)
		}
	}
	return WeekDays
}

// Picking turns the fruit that come ripe in each week into those picked, those
// that hang ripe at the week's end, and those gone overripe.
//
// share is the share, 0 to 1, of the fruit ripe at a week's pick that there are
// hands for; keeps the share of the missed ones that are still good at the next;
// unpicked the days of a week after its last pick, 0 to 7. What ripens in those
// days waits, and is as good as new at the next pick. All have one cell a week
// but keeps and unpicked. picked, waiting and overripe are filled, and
//
//	ripe so far = picked so far + overripe so far + waiting
//
// In week cleared (never, when it is no week of the series) the pick goes on to the
// end: nothing is left for a day after.
func Picking(picked, waiting, overripe, ripe, share []float64, keeps, unpicked float64, cleared int) {
	hanging := 0.0
	for w := range ripe {
		late := ripe[w] * unpicked / WeekDays
		if w == cleared {
			late = 0
		}
		at := hanging + ripe[w] - late
		picked[w] = at * share[w]
		missed := at - picked[w]
		overripe[w] = missed * (1 - keeps)
		hanging = missed - overripe[w] + late
		waiting[w] = hanging
	}
}

// Alive gives the share of the plants set out that stand at the end of each week,
// from the share of those standing that die in it (0 to 1; 1 when a planting is
// cleared). A plant that dies takes its fruit with it: so the picks of a planting
// are those it would have had with all its plants, times this, and not its trusses
// times this.
func Alive(alive, dying []float64) {
	standing := 1.0
	for w := range dying {
		standing *= 1 - dying[w]
		alive[w] = standing
	}
}
