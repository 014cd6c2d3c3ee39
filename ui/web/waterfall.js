// From one amount to another by steps: totals in ink from nought, what is added in
// spruce, what is taken off in the colours of costs.
import { home, valueOf } from './book.js'
import { html } from './html.js'
import { parted } from './name.js'
import { show, words } from './show.js'
import { collect, isWeekly } from './value.js'
import { why } from './trace.js'

const r = (x) => Math.round(x * 100) / 100

// amount gives what a line comes to over the season; null when it is not one number.
function amount(name) {
  const value = valueOf(name).value
  if (!value || value.kind !== 'number') return null
  const numbers = isWeekly(value) ? collect(value).parts.map((p) => p.season) : value.cells
  if (!numbers.every((x) => typeof x === 'number') || numbers.length > 1 && !value.adds) return null
  return { x: numbers.reduce((a, b) => a + b, 0), unit: value.unit }
}

// signOf says whether a line goes into another as a term, directly or through others:
// 1 added, -1 taken off, 0 not to be said.
function signOf(name, into, depth = 0) {
  const row = home(into)?.row?.value
  if (!row?.reads || depth > 6) return 0
  for (const [i, read] of row.reads.entries()) {
    const sign = { '+': 1, '-': -1 }[row.signs ? row.signs[i] : '+']
    if (!sign) continue
    if (read === name) return sign
    const below = signOf(name, read, depth + 1)
    if (below) return sign * below
  }
  return 0
}

// stepsOf reads the names of a waterfall: the first and the last are totals, those
// between are steps; of one name alone, its own terms are. What the steps leave
// unsaid is a step of its own, so that the picture adds up.
function stepsOf(names) {
  let end = names.at(-1), list = names
  const row = home(end)?.row?.value
  if (names.length === 1) list = [...(row?.reads ?? []).filter((_, i) => !row.signs || '+-'.includes(row.signs[i] || 'x')), end]
  const label = (name) => home(name)?.row?.value.label || words(name)
  const all = list.map((name) => ({ name, label: label(name), ...amount(name) }))
  if (all.length < 2 || all.some((s) => s.x === undefined)) return null
  const [first, last] = [all[0], all.at(-1)]
  const steps = all.slice(1, -1).map((s) => ({ ...s, by: (signOf(s.name, end) || -1) * s.x }))
  const rest = last.x - first.x - steps.reduce((a, s) => a + s.by, 0)
  if (Math.abs(rest) > 0.005 * Math.max(Math.abs(first.x), Math.abs(last.x))) steps.push({ label: 'All the rest', by: rest, unit: last.unit })
  let at = first.x
  return [{ ...first, from: 0, to: first.x, total: true }, ...steps.map((s) => { const from = at; at += s.by; return { ...s, from, to: at } }), { ...last, from: 0, to: last.x, total: true }]
}

const signed = (x, unit) => (x < 0 ? '' : '+') + show(x, unit)

export function Waterfall({ names, title }) {
  const steps = stepsOf(names)
  if (!steps) return html`<p class="remark">This picture needs amounts that follow from each other: ${names.join(', ')} do not.</p>`
  const ends = steps.flatMap((s) => [s.from, s.to])
  const low = Math.min(0, ...ends), high = Math.max(0, ...ends)
  const y = (x) => r((high - x) / (high - low || 1) * 100)
  let part = -1
  return html`<div class="waterfall" style=${{ '--n': steps.length }} role="list" aria-label=${title}>
    ${steps.map((s, k) => {
      const kind = s.total ? 'total' : s.by >= 0 ? 'plus' : 'p' + ++part % 5
      const text = s.total ? show(s.to, s.unit) : signed(s.by, s.unit)
      return html`<div class="step-at" role="listitem" key=${s.label}>
        <div class="fall"><i class="zero-at" style=${{ top: y(0) + '%' }}></i>${k < steps.length - 1 && html`<i class="over" style=${{ top: y(s.to) + '%' }}></i>`}
          <i class=${'bar-at part done ' + kind} style=${{ top: Math.min(y(s.from), y(s.to)) + '%', height: `max(2px, ${r(Math.abs(y(s.from) - y(s.to)))}%)` }}></i>
          <b style=${{ top: Math.min(y(s.from), y(s.to)) + '%' }}>${text}</b></div>
        <div class="called">${s.name ? html`<button class="title" onClick=${() => why(s.name)}>${parted(s.label).head}</button>` : s.label}<span class="vh">: ${text}</span></div></div>`
    })}</div>`
}

// waterfallRows gives the same as rows of a table.
export const waterfallRows = (names) => (stepsOf(names) ?? []).map((s) => [s.label, s.total ? '' : signed(s.by, s.unit), show(s.to, s.unit)])
