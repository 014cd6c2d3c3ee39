// The numbers of a weekly line under their own weeks, in rows that take turns so
// that each finds room; and all of them as a table.
import { html } from './html.js'
import { across, focus, inSpan, now, pick, spanText, weeks, weekTag, whenText } from './week.js'

const known = (x) => typeof x === 'number'

// digits says how exact the numbers of one row are, so that they can be compared.
function digits(cells) {
  const most = Math.max(0, ...cells.filter(known).map(Math.abs))
  return most >= 20 ? 0 : most >= 2 ? 1 : 2
}

// compact writes a number in few signs: 13.7k, 561, 9.9; of nothing there is none.
export function compact(x, places) {
  if (!known(x) || x === 0) return ''
  const a = Math.abs(x)
  const text = a >= 100_000 ? Math.round(a / 1000) + 'k' : a >= 10_000 ? (a / 1000).toFixed(1) + 'k' : a >= 1000 ? (a / 1000).toFixed(1) + 'k' : a.toFixed(a >= 100 ? 0 : places)
  return (x < 0 && /[1-9]/.test(text) ? '−' : '') + text
}

// Strip shows the weeks of one row of numbers. It repeats the table of all weeks, so
// it is kept from readers of the screen.
export function Strip({ cells, held = [] }) {
  const places = digits(cells)
  const texts = cells.map((x) => compact(x, places))
  const rows = Math.max(...texts.map((t) => t.length)) > 3 ? 3 : 2
  const shown = texts.map((text, i) => ({ text: text || (cells[i] === 0 && i === focus.value ? '0' : ''), i })).filter(({ text, i }) => text && inSpan(i))
  return html`<div class="strip" style=${{ '--rows': rows }} aria-hidden="true" onClick=${pick}>
    ${shown.map(({ text, i }) => html`<span key=${i} class=${(i < now.value ? 'done' : '') + (i === focus.value ? ' cur' : '') + (held.includes(i) ? ' held' : '')} style=${{ left: `${across(i + 0.5)}%`, top: `${i % rows * 15}px` }} data-text=${text}></span>`)}</div>`
}

// Numbers is the table of all weeks, for whom a picture does not serve.
export function Numbers({ name, line }) {
  const parts = line.parts
  const many = parts.length > 1
  return html`<div class="scroll" role="region" tabindex="0" aria-label=${`${name}, numbers of all weeks`}><table class="list">
    <caption class="vh">${name}, week by week</caption>
    <thead><tr><th scope="col">Week</th>${parts.map((p) => html`<th scope="col">${p.label || name}</th>`)}${!many && line.low && html`<th scope="col">8 in 10 seasons</th>`}</tr></thead>
    <tbody>${weeks.value.map((w, k) => html`<tr class=${k === focus.value ? 'cur' : ''}><th scope="row">${weekTag(k)} <small>${spanText(k)}${k === focus.value ? `, ${whenText(k)}` : ''}</small></th>
      ${parts.map((p, m) => html`<td>${line.textOf(m, k)}</td>`)}${!many && line.low && html`<td>${line.band(k)}</td>`}</tr>`)}</tbody></table></div>`
}
