// Numbers, units and names as a person reads them. The rules for numbers are
// those of engine/show.go:Show, so that a figure reads the same on a screen and
// in a terminal; only signs are set as printers set them: −, °F, ft².

import { inHabit } from './units.js'

const formats = new Map()

// fixed writes |x| with that many digits, thousands apart; ties go to even, as in Go.
function fixed(x, digits) {
  if (!formats.has(digits)) {
    formats.set(digits, new Intl.NumberFormat('en-US', { minimumFractionDigits: digits, maximumFractionDigits: digits, roundingMode: 'halfEven' }))
  }
  return formats.get(digits).format(Math.abs(x))
}

// moneyUnit splits "USD/lb" into the currency and "/lb"; null when it is no money.
function moneyUnit(unit) {
  const [, code, per] = /^([^/*]*)(.*)$/.exec(unit)
  return /^[A-Z]{3}$/.test(code) && code !== 'BTU' ? { code, per } : null
}

// digitsFor: whole money from a hundred on, prices to the cent, ratios to two
// places, other amounts to about three figures.
function digitsFor(x, unit, money) {
  const a = Math.abs(x)
  if (money && money.per) return 2
  if (money && a >= 100) return 0
  if (money || unit === '1') return 2
  if (a >= 100 || a === 0) return 0
  return a >= 10 ? 1 : 2
}

// figure gives a number as its parts: sign and number together, and the unit that
// follows, with the space between them where there is one. It is written in the unit
// that this viewer is used to.
export function figure(own, ownUnit) {
  if (typeof own !== 'number') return { number: 'not known', unit: '' }
  const { x, unit } = inHabit(own, ownUnit)
  return written(x, unit)
}

// showOwn writes a number in its own unit, whoever reads it: a price is asked in the
// unit it is sold by, and a coin step of a pound is none of a kilogram.
export const showOwn = (x, unit) => { const f = written(x, unit); return f.number + f.unit }

function written(x, unit) {
  const money = moneyUnit(unit)
  const n = fixed(x, digitsFor(x, unit, money))
  const sign = x < 0 && /[1-9]/.test(n) ? '−' : ''
  if (money && money.code === 'USD') return { number: sign + '$' + n, unit: unitText(money.per) }
  if (money) return { number: sign + n, unit: ' ' + money.code + unitText(money.per) }
  if (unit === '1' || unit === '') return { number: sign + n, unit: '' }
  return { number: sign + n, unit: ' ' + unitText(counted(n, unit)) }
}

// counted gives the unit behind a number as it is said: 3 trusses, 1 truss, 3 lb, 3
// fruit. Only a unit that is one whole word has a plural.
function counted(n, unit) {
  if (n === '1' || n === '1.00' || !/^[a-z_]{3,}$/.test(unit) || /^(fruit|gal|min|mol|mmol|umol|meq|deg|ppm)$/.test(unit)) return unit
  return unit + (/(s|x|ch|sh)$/.test(unit) ? 'es' : 's')
}

// show writes a number with its unit; bare leaves the unit to what stands beside it.
export const show = (x, unit) => { const f = figure(x, unit); return f.number + f.unit }
export const bare = (x, unit) => figure(x, unit).number

const signs = { degF: '°F', degC: '°C', degF_diff: '°F', degC_diff: '°C', deg: '°' }

// unitText sets a unit's symbols: degF as °F, m2 as m². It leaves numbers alone, so
// that a whole figure may go through it.
export const unitText = (unit) => unit.replace(/[A-Za-z_]+[23]?(?![\w.])/g, (s) => signs[s] ?? s.replace(/2$/, '²').replace(/3$/, '³'))

// pretty sets the signs in a figure that came as text: "-$630" with a true minus.
export const pretty = (text) => unitText(text.replace(/(^|[\s(])-(?=[$\d])/g, '$1−'))

// split cuts a figure that came as text into its number, or numbers, and its unit.
export function split(text) {
  const [, number, unit] = /^(.*\d)?(\D*)$/s.exec(pretty(text))
  return number ? { number, unit } : { number: unit, unit: '' }
}

// cellText writes one cell of a value by its kind.
export function cellText(value, cell) {
  const x = value.cells[cell]
  if (x === null || x === undefined) return 'not known'
  if (value.kind === 'number') return show(x, value.unit)
  if (value.kind === 'yes_no') return x ? 'yes' : 'no'
  if (value.kind === 'date') return dateText(x)
  return words(x)
}

// band writes two ends without their unit; "" where they read alike.
export const band = (low, high, unit) => (bare(low, unit) === bare(high, unit) ? '' : `${bare(low, unit)} to ${bare(high, unit)}`)

// bandText writes what eight seasons in ten stay within; "" where there is no band
// or its two ends read alike.
export function bandText(value, cell) {
  const low = value.low?.[cell], high = value.high?.[cell]
  if (value.kind === 'date' && low && high) return low === high ? '' : `${dateText(low)} to ${dateText(high)}`
  if (typeof low !== 'number' || typeof high !== 'number') return ''
  const a = bare(low, value.unit), b = bare(high, value.unit)
  return a === b ? '' : `${a} to ${b}`
}

// oddsText writes per cent of draws as seasons of twenty.
export const oddsText = (odds) => (typeof odds === 'number' ? `${Math.round(odds / 5)} in 20` : '')

export const months = ['Jan', 'Feb', 'Mar', 'Apr', 'May', 'Jun', 'Jul', 'Aug', 'Sep', 'Oct', 'Nov', 'Dec']

// dateText writes an ISO day: 2026-10-12 as 12 Oct 2026. Other text stays.
export function dateText(text) {
  const m = /^(\d{4})-(\d\d)-(\d\d)$/.exec(text)
  return m ? `${+m[3]} ${months[m[2] - 1]} ${m[1]}` : text
}

// words turns a name into words: fuel_price into "Fuel price".
export const words = (name) => { const s = name.replace(/_/g, ' '); return s.charAt(0).toUpperCase() + s.slice(1) }

// typed reads a literal with its range as it was written: { middle, unit, low, high };
// null where it is a schedule, a form or no number.
export function typed(text) {
  const m = /^(-?[\d.]+)(?:\s*([A-Za-z%][^\s(]*))?(?:\s*\((-?[\d.]+)\.\.(-?[\d.]+)\))?(?:\s*open)?$/.exec(text.trim())
  return m && { middle: m[1], unit: m[2] ?? '1', low: m[3], high: m[4] }
}

// typedText writes a typed number in its unit, as exactly as it was typed.
export function typedText(number, unit) {
  const money = moneyUnit(unit)
  const n = quantity(number.replace('-', '−'))
  if (money?.code === 'USD') return (n[0] === '−' ? '−$' + n.slice(1) : '$' + n) + unitText(money.per)
  return n + (unit === '1' ? '' : ' ' + unitText(unit))
}

// quantity writes a literal as typed, only with thousands apart and signs set.
export const quantity = (text) => pretty(text.replace(/(?<![\w.-])\d{5,}(?![\w-])|(?<![\w.-])\d{4}(?![\w-])/g, (n) => fixed(+n, 0))).replace(/^chance\((.*)\)$/, 'chance $1').replace(/\((\S+?)\.\.(\S+?)\)/g, '($1 to $2)')
