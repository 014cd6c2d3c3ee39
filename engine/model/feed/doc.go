// Package feed is what reaches the roots: how much the crop drinks, how much runs
// out of the bag again, what is dissolved in it, and what the bag costs.
//
// Terms. A recipe is what the feed should hold of each element, mg in a litre
// (growers say ppm). A salt is a fertiliser as it is bought; its share of an element
// is part of its weight. The well is the water before anything is put in: what it
// brings itself counts towards the recipe. A strong solution (stock, concentrate)
// stands in tank and is thinned by the injector, so many parts of water to one.
// Drain is what runs out at the foot of the bag, of what was given.
//
// Invariants, held by the tests:
//   - the elements of a feed are those of its salts, to the rounding of the machine
//   - no salt is taken out of the water again: no dose is below zero
//   - no other doses come nearer to the recipe
//   - salts of calcium never share a strong solution with sulfates or phosphates
//   - more light never makes a crop drink less, and what is given is what is drunk and what drains
//
// The functions are pure: numbers in, numbers out, nothing kept or allocated.
//
// Entry points: [SaltOf] and [Salt.Share]; [Dose]; [Clash]; [Conductivity];
// [AcidNeeded]; [Drinks], [Canopy] and [DrainShare]; [BagCost].
package feed
