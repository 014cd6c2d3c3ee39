// A value over its axes, made ready to be shown: cut into its members, put
// together where that means something, and written in words.
import { book, labelOf } from './book.js'
import { frame } from './draw.js'
import { bandText, bare, cellText, months, oddsText, show } from './show.js'
import { span } from './week.js'

// cellName names a cell of an axis: Jan for 01, Mar 2027 for 2027-03, year 1, or a
// member's shown name.
export function cellName(axis, name) {
  if (axis === 'month_of_year') return months[name - 1]
  if (axis === 'month') return months[name.slice(5) - 1] + ' ' + name.slice(0, 4)
  if (axis === 'year_ahead') return 'year ' + name
  return labelOf(axis, name)
}

// members gives the cells of all axes but the last as { label, from }, where from
// is the place of the first cell; cells of the last axis follow each other.
export function members(value) {
  const axes = value.axes.slice(0, -1)
  let list = [{ label: '', from: 0 }]
  for (const axis of axes) {
    const names = book.peek()?.axes[axis] ?? []
    list = list.flatMap(({ label, from }) => names.map((name, i) => ({ label: label ? `${label}, ${cellName(axis, name)}` : cellName(axis, name), from: from * names.length + i })))
  }
  const length = value.cells.length / list.length || 1
  return list.map((m) => ({ label: m.label, from: m.from * length, length }))
}

export const isWeekly = (value) => value?.axes?.at(-1) === 'week' && value.cells?.length > 0

let collected = new WeakMap() // by value, with the names of the book as it was then
let named = null

// collect makes a weekly value ready for one line of the page: what is drawn, the
// text of a week and of the season. Members whose weeks add up are drawn together,
// other members stay apart.
export function collect(value) {
  if (named !== book.peek()) [collected, named] = [new WeakMap(), book.peek()]
  if (collected.has(value)) return collected.get(value)
  const parts = members(value).map((m, k) => ({
    label: m.label,
    cells: value.cells.slice(m.from, m.from + m.length),
    low: value.low?.slice(m.from, m.from + m.length),
    high: value.high?.slice(m.from, m.from + m.length),
    season: value.season?.[k],
  }))
  const one = parts.length === 1 ? parts[0] : null
  const adds = !one && value.adds
  const rows = one ? [one.cells] : adds ? [together(parts.map((p) => p.cells))] : parts.map((p) => p.cells)
  const scales = new Map() // by the weeks that are shown, with and without a fan
  const scaleOf = (fan) => {
    const key = `${span.value.from} ${span.value.to} ${Boolean(fan)}`
    return scales.get(key) ?? scales.set(key, frame({ ...it, fan })).get(key)
  }
  const it = {
    parts, rows, gather: value.gather, low: one?.low, high: one?.high, inner: one && value.inner_low ? [value.inner_low, value.inner_high] : undefined,
    number: value.kind === 'number',
    note: one ? '' : adds ? `${parts.length} together` : `by ${value.axes.slice(0, -1).map((a) => a.replace(/_/g, ' ')).join(', ')}`,
    known: (i) => rows.length === 1 && typeof rows[0][i] === 'number',
    scale: scaleOf,
    at: (i, fan) => `${scaleOf(fan).y(rows[0][i])}%`,
    text: (i) => (rows.length === 1 && it.number ? show(rows[0][i], value.unit) : one ? cellText(value, i) : between(rows.map((row) => row[i]), value.unit)),
    textOf: (m, i) => cellText({ ...value, cells: parts[m].cells }, i),
    band: (i) => (one ? bandText(value, i) : ''),
    season: () => {
      const all = parts.map((p) => p.season).filter((x) => typeof x === 'number')
      if (!all.length) return ''
      return adds ? show(all.reduce((a, b) => a + b), value.unit) : between(all, value.unit)
    },
  }
  if (adds && value.together) { // of the draws, in each of which the members do add up
    const [low, q1, q3, high] = [0, 1, 2, 3].map((k) => value.together.map((edges) => edges[k]))
    Object.assign(it, { low, high, inner: [q1, q3], band: (i) => bandText({ ...value, low, high }, i) })
  }
  collected.set(value, it)
  return it
}

function together(rows) {
  return rows[0].map((_, i) => {
    const all = rows.map((row) => row[i]).filter((x) => typeof x === 'number')
    return all.length ? all.reduce((a, b) => a + b) : null
  })
}

// between writes several numbers as the least and the most of them.
function between(all, unit) {
  const numbers = all.filter((x) => typeof x === 'number')
  if (!numbers.length) return 'not known'
  const low = Math.min(...numbers), high = Math.max(...numbers)
  return bare(low, unit) === bare(high, unit) ? show(low, unit) : `${bare(low, unit)} to ${show(high, unit)}`
}

// figures gives a value without weeks as a list of { label, text, band }, cells
// that all read alike as one.
export function figures(value) {
  const last = value.axes.at(-1)
  const names = last ? book.peek()?.axes[last] ?? [] : ['']
  const list = members(value).flatMap((m) => names.map((name, i) => {
    const cell = last ? m.from + i : 0
    const label = [m.label, last ? cellName(last, name) : ''].filter(Boolean).join(', ')
    return { label, text: cellText(value, cell), band: bandText(value, cell), odds: oddsText(value.odds?.[cell]), x: value.cells[cell], low: value.low?.[cell], high: value.high?.[cell] }
  }))
  const alike = list.length > 1 && list.every((f) => f.text === list[0].text && f.band === list[0].band)
  return alike ? [{ ...list[0], label: '' }] : list
}

// summary writes a value in a few words, for suggestions and for readers of tests.
export function summary(value, week) {
  if (!value || !value.cells?.length) return ''
  if (isWeekly(value)) return collect(value).text(week)
  const list = figures(value)
  if (list.length === 1) return list[0].text
  return value.kind === 'number' ? between(value.cells, value.unit) : `${list.length} of them`
}

const cut = new WeakMap()

// part gives one member of a weekly value as a value of its own.
export function part(value, p) {
  if (!cut.has(p)) cut.set(p, { ...value, axes: ['week'], cells: p.cells, low: p.low, high: p.high, season: [p.season] })
  return cut.get(p)
}
