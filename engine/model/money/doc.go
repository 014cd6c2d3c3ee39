// Package money holds what a lender and an owner reckon with: loans to the
// cent, an operating line, the yearly charge of what is owned, break-evens,
// cover of debt, present value and rates of return.
//
// # Terms
//
// A loan is paid back in periods of equal length (months, quarters, half years
// or years). Interest of a period is the balance before it times the yearly
// rate over the periods of a year; what a payment holds beyond interest is
// principal. A level loan pays the same each period, except the last. Term-debt
// cover is what is left to repay with, over what falls due.
//
// # Invariants
//
//   - Money that is owed is exact: whole cents, each product rounded half up
//     once. No binary fraction decides a cent. A loan's balance ends at exactly
//     0.00, and its principal payments add up to the amount lent.
//   - Terms.Schedule (decimals, for a table) and Payoff (integers, for draws)
//     are written apart and give the same cents.
//   - Money that is forecast (charges, present values) is floating point.
//   - All functions are pure. Days come from the calendar; nothing asks a clock.
//
// Entry points: Terms.Schedule, Terms.Start, DueFrom, OperatingLine,
// CapitalRecovery, BreakEvenPrice, BreakEvenYield, Income.Capacity,
// PresentValue, InternalRates.
//
// This is planning, not advice: the lender's own schedule and contract rule.
package money
