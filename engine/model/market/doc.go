// Package market holds what a grower reckons with at the stall: price steps,
// the floor, what a channel takes at a price, and how a week's crop is split
// over the offers there are.
//
// # Terms
//
// An offer is one way to sell one crop in one week: a stall, a shop, a buyer.
// An open offer takes more at a lower price; how much more is its response, the
// price elasticity: -1.5 means that 1 % on the price takes 1.5 % off the
// quantity. A price-taking buyer names the price and a largest quantity. Net is
// what a unit sold leaves: price less the fee's share of it, less the cost of
// selling. The floor is the price below which it is better not to sell.
//
// # Invariants
//
//   - What is sold and what is left over add up to what was picked.
//   - A printed price is an exact decimal and a whole number of steps, and is
//     never below the floor.
//   - Nothing is sold below a net of zero.
//   - All functions are pure. Quantities are in one unit (kg, a piece), the same
//     that prices are per.
//
// Entry points: ToStep, AtLeast, Steps, Floor, Net, Linear, Constant, Best,
// Split, EqualMarginal, CarryOver.
package market
