// Small drawings. A chart over weeks is drawn in weeks across and per cent down,
// and stretched to its place; strokes keep their width and dots stay round
// because they are strokes too. So a chart is a few paths whatever its size, and
// nothing is drawn again when a window changes.
//
// Sums are columns, levels and means are lines. Recorded is ink, forecast spruce;
// a week that is over and has no band is taken as recorded. All charts over weeks
// show the same ones: those of week.js:span.
import { html } from './html.js'
import { inSpan, span } from './week.js'

const PAD = 7 // per cent kept free above and below

const r = (x) => Math.round(x * 100) / 100
const known = (x) => typeof x === 'number'

// scale gives where a number stands, in per cent from the top. zero: the nought
// line is always in view.
function scale(rows, zero) {
  let low = zero ? 0 : Infinity, high = zero ? 0 : -Infinity
  for (const row of rows) for (const x of row ?? []) if (known(x)) { low = Math.min(low, x); high = Math.max(high, x) }
  if (!(low <= high)) { low = 0; high = 1 }
  if (low === high) { if (low !== 0 && zero) { low = Math.min(0, low); high = Math.max(0, high) } else { low -= 1; high += 1 } }
  return { y: (x) => r(PAD + (high - x) / (high - low) * (100 - 2 * PAD)), low, high }
}

// frame is the scale of a weekly chart over the weeks that are shown: nought is in
// view but for means.
export function frame({ rows, low, high, gather, fan }) {
  const { from, to } = span.value
  return scale([...rows, low, high].map((row) => row?.slice(from, to)), gather !== 'mean' || fan)
}

// gridlines gives one or two round numbers within a scale that are worth a line.
export function gridlines({ low, high }) {
  const most = Math.max(Math.abs(low), Math.abs(high))
  if (!(most > 0)) return []
  const ten = 10 ** Math.floor(Math.log10(most))
  const step = [0.2, 0.5, 1, 2, 5].map((x) => x * ten).find((x) => most / x < 3.6) ?? 5 * ten
  return [1, 2].map((k) => k * step).filter((x) => x < high)
}

// line draws a row of numbers from week to week, with gaps where nothing is known.
function line(row, y, from, to) {
  let d = ''
  for (let i = from; i < to; i++) if (known(row[i])) d += (i > from && known(row[i - 1]) ? 'L' : 'M') + (i + 0.5) + ' ' + y(row[i])
  return d
}

// band draws the room between two rows.
function band(low, high, y, from, to) {
  let d = ''
  for (let i = from; i < to;) {
    if (!known(low[i])) { i++; continue }
    let j = i
    while (j + 1 < to && known(low[j + 1])) j++
    for (let k = i; k <= j; k++) d += (k > i ? 'L' : 'M') + (k + 0.5) + ' ' + y(high[k])
    for (let k = j; k >= i; k--) d += 'L' + (k + 0.5) + ' ' + y(low[k])
    d += 'Z'
    i = j + 1
  }
  return d
}

const WIDTH = 0.58 // of a week

function columns(row, y, wanted) {
  let d = ''
  row.forEach((x, i) => {
    if (known(x) && x !== 0 && inSpan(i) && wanted(i)) d += `M${r(i + 0.5 - WIDTH / 2)} ${y(0)}V${y(x)}h${WIDTH}V${y(0)}Z`
  })
  return d
}

function whiskers(low, high, y) {
  let d = ''
  low.forEach((x, i) => { if (known(x) && inSpan(i) && high[i] > x) d += `M${i + 0.5} ${y(high[i])}V${y(x)}` })
  return d
}

// chart draws weekly rows: { rows, low, high, gather, now, fan }. low and high
// belong to the only row, and so do inner, the band of five in ten as [low, high],
// and beside, another row drawn in dashes. fan: a band and its middle, also for sums.
export function chart({ rows, low, high, inner, beside, gather, now, fan, zero, label }) {
  const { from, to } = span.value
  const weeks = Math.max(1, ...rows.map((row) => row.length))
  const sums = gather === 'sum' && !fan && rows.length === 1
  const { y, low: bottom, high: top } = frame({ rows, low, high, gather, fan })
  const open = (i) => known(low?.[i]) && low[i] !== high[i] // a guess
  const past = (i) => i < now && !open(i)
  let lastPast = 0
  while (lastPast < weeks && past(lastPast)) lastPast++
  const [row] = rows
  return html`<svg class="chart" viewBox=${`${from} 0 ${to - from} 100`} preserveAspectRatio="none" role="img" aria-label=${label}>
    ${(sums || zero || bottom < 0 && top > 0) && html`<path class=${sums ? 'base' : 'zero'} d=${`M${from} ${y(0)}H${to}`} />`}
    ${low && !sums && html`<path class="b1" d=${band(low, high, y, from, to)} />`}
    ${inner && !sums && html`<path class="b2" d=${band(inner[0], inner[1], y, from, to)} />`}
    ${beside && html`<path class="mid other" d=${line(beside, y, from, to)} />`}
    ${sums
      ? html`<path class="col done" d=${columns(row, y, past)} /><path class="col" d=${columns(row, y, (i) => !past(i))} />
          ${low && html`<path class="wh" d=${whiskers(low, high, y)} />`}`
      : rows.length > 1
        ? rows.map((one, k) => html`<path class=${'mid alt a' + k % 4} d=${line(one, y, from, to)} />`)
        : html`<path class="mid" d=${line(row, y, Math.max(from, lastPast - 1), to)} /><path class="mid done" d=${line(row, y, from, Math.min(to, lastPast))} />
            ${fan && html`<path class="rec" d=${dots(row, y, lastPast)} />`}`}
  </svg>`
}

function dots(row, y, to) {
  let d = ''
  for (let i = 0; i < to; i++) if (known(row[i]) && row[i] !== 0 && inSpan(i)) d += `M${i + 0.5} ${y(row[i])}h0`
  return d
}

const FURTHEST = 0.2 // of the middle: where the common scale of ranges ends

// range draws a guess: all on one scale, a fifth of the middle to either side, so that
// a wide bar is a shaky guess whatever its unit. A bar that leaves the scale ends in a
// point.
export function range(low, middle, high) {
  if (!known(low) || !known(high) || !known(middle) || low === high) return null
  const half = Math.abs(middle) * FURTHEST || Math.max(Math.abs(low), Math.abs(high))
  const at = (v) => 50 + (v - middle) / half * 46
  const x = (v) => r(Math.min(100, Math.max(0, at(v))))
  const points = (at(low) < 0 ? 'M4 4.500L0 8L4 11.500' : '') + (at(high) > 100 ? 'M96 4.500L100 8L96 11.500' : '')
  return html`<svg class="range" viewBox="0 0 100 16" preserveAspectRatio="none" aria-hidden="true">
    <path class="r1" d=${`M${x(low)} 8H${x(high)}`} />${points && html`<path class="r3" d=${points} />`}<path class="r2" d=${`M${x(middle)} 8h0`} /></svg>`
}

// spread draws a figure within its bands, [low, high] or with the middle half after
// them, beside the number that it is held against: limit is { at, text }.
export function spread([low, high, q1, q3], middle, limit) {
  const ends = [low, high, middle, ...(limit ? [limit.at] : [])].filter(known)
  const from = Math.min(...ends), to = Math.max(...ends)
  if (!(to > from)) return null
  const x = (v) => r(5 + (v - from) / (to - from) * 90)
  return html`<span class="spread" aria-hidden="true">${limit && html`<small style=${{ left: x(limit.at) + '%' }}>${limit.text}</small>`}
    <svg viewBox="0 0 100 16" preserveAspectRatio="none">${limit && html`<path class="ref" d=${`M${x(limit.at)} 0V16`} />`}
      <path class="s1" d=${`M${x(low)} 8H${x(high)}`} />${known(q1) && html`<path class="s2" d=${`M${x(q1)} 8H${x(q3)}`} />`}<path class="s3" d=${`M${x(middle)} 8h0`} /></svg></span>`
}

// dotsOf20 draws twenty seasons, filled where it holds.
export function dotsOf20(n) {
  const all = Array.from({ length: 20 }, (_, i) => ({ x: 6 + i % 10 * 12, y: 6 + Math.floor(i / 10) * 12 }))
  return html`<svg class="dots" width="120" height="24" viewBox="0 0 120 24" aria-hidden="true">
    ${all.map(({ x, y }, i) => (i < n ? html`<circle cx=${x} cy=${y} r="4.3" class="yes" />` : html`<circle cx=${x} cy=${y} r="3.6" class="no" />`))}</svg>`
}

// sample shows how the line of a member is drawn, beside its name.
export const sample = (k) => html`<svg class="chart sample" viewBox="0 0 24 8" aria-hidden="true"><path class=${'mid alt a' + k % 4} d="M0 4H24" /></svg>`
