// Package array holds numbers over named axes and the loops that compute with them.
//
// Terms. An axis is named and has cells (the weeks of the season, the members
// of a list). A set of axes (Axes) is a bit set; its canonical order is the
// order of the axes in the Space: lists in book order, records, year_ahead,
// month_of_year, month, week. A value over a set of axes is a slice of cells,
// row-major in that order, and every cell is a row of draws, innermost. Two
// values meet by the names of their axes: an operand without an axis is
// repeated along it.
//
// Invariants. Infinity never stands in a cell (cell.go). Kernels are plain
// loops over slices: they call nothing and allocate nothing for an element, and
// write float64(a*b)+c so that no build fuses the rounding; one processor
// family therefore gives the same bits for any block of draws and any number of cores.
//
// Entry points: Space and Axes (axes.go), Operand and the kernels (kernels.go,
// reduce.go), Walk (walk.go).
package array
