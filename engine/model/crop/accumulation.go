package crop

// WeekDays is the length of a step of a weekly series, days.
const WeekDays = 7

// Reached gives the time, in days from the beginning of a series, at which a sum
// that starts at start (days, also before the series) has reached wanted. The
// series holds a rate per day for steps of step days; before its first and after
// its last step the nearest rate holds. It says no when the sum stands still for
// ever below wanted, or the series is empty.
func Reached(rate []float64, step, start, wanted float64) (at float64, ok bool) {
	n := len(rate)
	if n == 0 {
		return 0, false
	}
	at = start
	if wanted <= 0 {
		return at, true
	}
	i := max(0, min(n-1, int(at/step)))
	for {
		end := float64(i+1) * step
		if rate[i] > 0 {
			if need := wanted / rate[i]; i == n-1 || at+need <= end {
				return at + need, true
			}
		} else if i == n-1 {
			return 0, false
		}
		wanted -= rate[i] * (end - at)
		at, i = end, i+1
	}
}
