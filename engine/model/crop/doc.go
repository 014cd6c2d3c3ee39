// Package crop is the forecast of a winter tomato crop on one stem, in steps
// that each stand alone: when the first truss flowers, how fast trusses follow,
// how many fruit set, when they are ripe, what they weigh when all that hang share
// the light, what of it is picked and sound, and what the light could carry at
// most. Cucumber and sweet pepper go node by node, with fruit that keep other
// flowers from setting.
//
// Terms. A truss is one flower cluster; it opens when its first flower does
// (anthesis). Fruit set is a flower that becomes a fruit. A fruit's stage runs
// from 0 at anthesis to 1 when it is ripe. Air is the mean of the air over 24
// hours, degC: development follows that mean, not day and night apart. Light is
// the daily light sum at the crop, mol/m2/d of photosynthetic light. Weeks have
// seven days; a week's figure holds for each of its days.
//
// Invariants, held by the tests:
//   - fruit set = fruit ripe so far + fruit hanging, week by week
//   - warmer air never makes a fruit later
//   - a small change of temperature moves a small number of fruit
//   - half the set gives half the picks, and half a planting half its harvest
//   - fruit set = picked + lost + hanging, through dead plants, clearing and missed picks
//   - less light never yields more over a season
//   - more plants to a floor bear more fruit, and lighter ones
//
// The functions are pure: numbers in, numbers out, nothing kept or allocated.
// They take finite numbers; what is unknown is settled by the caller.
//
// Entry points: [FirstFlower], [TrussPace], [Set], [StageGain] with [Ripening],
// [Filler.Fill] (or, blind to the load, [LightSeen] with [Filled]), [Picking],
// [Alive], [Sound], [LightCeiling]; for cucumber and pepper [NodePace], [FruitGain],
// [Flush], [LightYield]; for a farm's own figures [OpenedWeek] with [Counted],
// [OwnOffset], [StageBetween], [PickedOfForecast], [LightUse].
package crop
