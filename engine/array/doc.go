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
// What a kernel computes is defined over single numbers (Op.One); over rows (Op.Apply)
// it gives the same bits, except that where operands hold nothing it may hand on a
// blank instead of a fault until Repair has been over it.
//
// Entry points: Space and Axes (axes.go), Op and Operand (op.go, rows.go), Reducer
// (reduce.go), Walk (walk.go).
package array
