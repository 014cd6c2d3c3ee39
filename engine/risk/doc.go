// Package risk turns what a grower is unsure of into draws, and draws into bands
// and odds.
//
// # Terms
//
// A draw is one season as it might go: every unsure input of the book takes one
// value. A Curve is the distribution of one literal, as the map from a share u
// between 0 and 1 to the value that u of all seasons stay below. A stream is the
// run of draws of one input, a uniform between 0 and 1 for each; it is named by a
// Key, which is all that decides it. A band is a pair of percentiles of a computed
// line over the draws, usually the 10th and 90th. Odds are the share of draws in
// which a condition holds; a verdict puts them into one word and a count of twenty
// seasons. A link makes two inputs lean the same way.
//
// # Invariants
//
//   - A stream depends on its Key and on nothing else: not on the block in which
//     it is asked for, the number of cores, the other lines or their order. Draw
//     number i is the same in every run, so 1,024 draws are the first of 4,096.
//   - Every aligned block of 2^m draws of a stream has exactly one point in each
//     of the 2^m equal slices of 0..1.
//   - A uniform is half a step of 2^-32 away from 0 and 1, so between 2^-33 and
//     1 - 2^-33; there every Curve is finite and never falls.
//   - The curve of a range passes its three percentiles exactly (to rounding).
//   - Blank and faulty cells (NaN) never count for or against anything: bands and
//     odds skip them, and a verdict is refused when they are many.
//   - All functions are pure: no clock, file or changing global.
//
// # Why these draws
//
// Plain random draws would do, and were rejected. Whatever is read from N of them
// wanders with 1/sqrt(N): at 1,024 draws a mean by 3 % of a standard deviation, a
// chance of 1 in 20 by a seventh of itself, and the 10th percentile by 2 % of the
// band, each time the seed changes; which looks to a lender like something real.
// Points that are spread evenly on purpose give every single input its percentiles
// and every chance its share almost exactly, and means settle up to thirty times
// closer where the answer is nearly a sum of the effects of single inputs, as a
// season's margin is. The percentiles of a line with many inputs gain little, a
// fifth or so.
//
// Evenly spread points in many dimensions at once (Sobol' and kin) tie a line to
// its place in a list: put a new unsure input into the book and all those after it
// get other draws, so that the change which a person sees after an edit is part
// edit, part noise. Latin squares (McKay, Beckman and Conover 1979) need N
// beforehand: 4,096 draws share nothing with 1,024. The van der Corput points,
// which read the digits of 0, 1, 2, ... backwards behind the binary point, are even
// at each power of two and need neither. Plainly used they would give every input
// the same draws in the same order, all inputs would move as one, and a chance of 1
// in 20 would strike every 20th draw by the clock.
//
// So each stream scrambles the points twice, from a hash of its Key. Swapping the
// halves of 0..1, then the quarters within each half, and so on down, each time or
// not by the toss of a coin, keeps the points even and makes every single one
// uniform, so that means are unbiased (Owen 1995); the same done to the index deals
// the points in another order for each stream, so that streams are paired as by
// shuffling. Burley (2020) showed that a small hash, whose digits depend only on
// the digits before them, tosses all these coins at once in a few nanoseconds and
// without memory. That makes draws a function of (seed, name, member, week,
// number): data made once, never a generator's state to be kept in step.
//
// What it does not buy: an effect that two inputs have only together is not settled
// faster than by plain draws, and a little more slowly: the chance correlation of
// two streams of N draws has a standard deviation of about 1.26/sqrt(N) instead of
// 1/sqrt(N), because two streams that each put draws 2j and 2j+1 into different
// halves are paired two at a time. That is the price of being even in every block;
// the test of independence measures it.
//
// # Entry points
//
// NewRange, NewEven, NewLikely, NewChance make curves; Key.Uniforms the draws;
// Persistent and Linked bend them; Quantile, Bands, Odds and Earn read the result;
// QuantileError and RankInterval say how far a percentile can be trusted.
//
// # Sources
//
// Burley, B. (2020) Practical Hash-based Owen Scrambling. Journal of Computer
// Graphics Techniques 9(4). Owen, A. B. (1995) Randomly permuted (t,m,s)-nets and
// (t,s)-sequences. In: Monte Carlo and Quasi-Monte Carlo Methods in Scientific
// Computing, Springer. Keelin, T. W. (2016) The Metalog Distributions. Decision
// Analysis 13(4):243-277. Hyndman, R. J. and Fan, Y. (1996) Sample Quantiles in
// Statistical Packages. The American Statistician 50(4):361-365.
package risk
