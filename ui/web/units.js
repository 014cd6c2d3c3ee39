// The units that this viewer is used to: those of the book as it stands, or US or
// metric ones throughout. It is kept in the browser and changes what is shown, never
// what the book says: an input is typed in its own unit.
import { signal } from './html.js'

const STORE = 'wintertruss.units'

export const habits = [['', 'units of the book'], ['us', 'US units'], ['metric', 'metric units']]

const kept = () => { try { return localStorage.getItem(STORE) ?? '' } catch { return '' } }

// habit is '' for the book's own units, us, or metric.
export const habit = signal(habits.some(([h]) => h === kept()) ? kept() : '')

export function useUnits(name) {
  habit.value = name
  try { localStorage.setItem(STORE, name) } catch { /* forbidden: as long as the page lives */ }
}

const shown = new Map() // unit -> habit -> { unit, mul, add }, as the server says

// learn takes up what a message says of units.
export function learn(units) {
  for (const [unit, by] of Object.entries(units ?? {})) shown.set(unit, by)
}

const LEAST = 0.005 // what reads as 0.00 is better left in its own unit

// inHabit gives a number and its unit as this viewer reads them.
export function inHabit(x, unit) {
  const to = habit.value && shown.get(unit)?.[habit.value]
  if (!to) return { x, unit }
  const y = x * to.mul + (to.add ?? 0)
  return Math.abs(y) < LEAST && Math.abs(x) >= LEAST ? { x, unit } : { x: y, unit: to.unit }
}
