package risk

import "math"

// Persistent gives the draws of "over each week keeps K %" their memory, in place.
// us holds one vector of uniforms a week, week by week, all of one length and drawn
// independently; keeps is k, the correlation of one week's normal score with the
// next one's, from -1 to 1:
//
//	z_0 = e_0      z_t = k z_(t-1) + sqrt(1 - k^2) e_t
//
// with e_t the normal scores of us[t]. Afterwards us holds the shares of z_t: each
// week is uniform as before, and the season has no warm-up. A spell of cold or of
// low prices fades by k each week: at 60 % a fifth of it is left after three weeks
// (k^3). The weeks after the first are no longer spread evenly over the draws, as
// no sum of two even streams is.
//
// Source: the stationary first-order autoregression, Box and Jenkins (1970), Time
// Series Analysis, section 3.2.
func Persistent(us [][]float64, keeps float64) {
	if !(-1 <= keeps && keeps <= 1) {
		panic("risk: persistence outside -1..1")
	}
	if keeps == 0 {
		return
	}
	fresh := math.Sqrt(1 - keeps*keeps)
	for t, week := range us {
		for i, u := range week {
			z := NormalScore(u)
			if t > 0 {
				z = float64(keeps*us[t-1][i]) + float64(fresh*z)
			}
			week[i] = z
		}
		// The week before is no longer needed as scores.
		if t > 0 {
			toShares(us[t-1])
		}
	}
	if len(us) > 0 {
		toShares(us[len(us)-1])
	}
}

func toShares(z []float64) {
	for i := range z {
		z[i] = NormalShare(z[i])
	}
}
