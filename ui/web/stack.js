// Amounts of a week put one on the other: at most five parts, always in the same
// order from the base up, weeks to come paler.
import { frame, gridlines } from './draw.js'
import { html } from './html.js'
import { Amount } from './figure.js'
import { show } from './show.js'
import { across, focus, inSpan, now, pick, span } from './week.js'

const MOST = 5

const r = (x) => Math.round(x * 100) / 100
const known = (x) => (typeof x === 'number' ? x : 0)

// atMost keeps the order of the parts; where they are too many, those that come to
// least over the season are gathered into one, last.
export function atMost(parts, most = MOST) {
  if (parts.length <= most) return parts
  const whole = (p) => p.cells.reduce((a, x) => a + Math.abs(known(x)), 0)
  const large = [...parts].sort((a, b) => whole(b) - whole(a)).slice(0, most - 1)
  const rest = parts.filter((p) => !large.includes(p))
  return [...parts.filter((p) => large.includes(p)), { label: `The other ${rest.length}`, note: rest.map((p) => p.label).join(', '), unit: parts[0].unit, cells: parts[0].cells.map((_, i) => rest.reduce((a, p) => a + known(p.cells[i]), 0)) }]
}

// Grid draws one or two faint lines, labelled inside.
export const Grid = ({ scale, unit }) => gridlines(scale).map((x, k) => html`<i class="grid" key=${k} style=${{ top: scale.y(x) + '%' }}></i><i class="grid-at" key=${'t' + k} aria-hidden="true" data-text=${show(x, unit).replace(/\.0+(?=\D|$)/, '')} style=${{ top: scale.y(x) + '%' }}></i>`)

// Stack draws parts, each with label, unit and its cells by week.
export function Stack({ parts: all, title }) {
  const parts = atMost(all)
  const i = focus.value
  const unit = parts[0].unit
  const { from, to } = span.value
  const weeks = parts[0].cells.length
  const tops = Array.from({ length: weeks }, (_, w) => parts.reduce((a, p) => a + Math.max(0, known(p.cells[w])), 0))
  const scale = frame({ rows: [tops], gather: 'sum' })
  const column = (k, wanted) => {
    let d = ''
    for (let w = from; w < to; w++) {
      const x = Math.max(0, known(parts[k].cells[w]))
      if (!x || !wanted(w)) continue
      const base = parts.slice(0, k).reduce((a, p) => a + Math.max(0, known(p.cells[w])), 0)
      d += `M${r(w + 0.14)} ${scale.y(base)}V${scale.y(base + x)}h.72V${scale.y(base)}Z`
    }
    return d
  }
  const season = (p) => show(p.cells.reduce((a, x) => a + known(x), 0), unit)
  return html`<div class="line tall stack"><div class="lab"><ul class="legend">${parts.map((p, k) => html`<li key=${p.label} title=${p.note}><i class=${'part p' + k}></i>${p.label}</li>`).reverse()}</ul></div>
    <div class="time" onClick=${pick}><${Grid} scale=${scale} unit=${unit} />
      <svg class="chart" viewBox=${`${from} 0 ${to - from} 100`} preserveAspectRatio="none" role="img" aria-label=${`${title}, week by week, ${parts.length} parts one on the other; the numbers stand in the table below it`}>
        <path class="base" d=${`M${from} ${scale.y(0)}H${to}`} />
        ${parts.map((_, k) => html`<path key=${k} class=${'part done p' + k} d=${column(k, (w) => w < now.value)} /><path key=${k + 'f'} class=${'part p' + k} d=${column(k, (w) => w >= now.value)} />`)}</svg>
      ${inSpan(i) && html`<i class="knot" style=${{ left: across(i + 0.5) + '%', top: scale.y(tops[i]) + '%' }}></i>`}</div>
    <dl class="vals legend">${parts.map((p) => html`<div key=${p.label}><dt class="vh">${p.label}</dt><dd><${Amount} text=${show(known(p.cells[i]), unit)} /></dd><dd class="sum">${season(p)}</dd></div>`).reverse()}</dl></div>`
}
