// A number as it is typed, by its parts: its middle and its range, or its steps over
// the weeks. What is written in the field above follows, and the other way round.
import { range } from './draw.js'
import { html } from './html.js'
import { typed as readLiteral, unitText } from './show.js'
import { spanText, weekTag, weeks } from './week.js'

const keys = (leaving, write) => (e) => {
  e.stopPropagation()
  if (!leaving[e.key]) return
  e.preventDefault()
  if (e.key === 'Enter') write(e.target.value)
  leaving[e.key]()
}

// Parts shows a number with its range.
export function Parts({ typed, label, leaving }) {
  const it = readLiteral(typed.value)
  if (!it) return null
  const unit = it.unit === '1' ? '' : it.unit
  const write = (part) => (text) => {
    const now = { ...it, [part]: text.trim() }
    const ranged = Boolean(now.low || now.high)
    typed.value = `${now.middle}${unit && ` ${unit}`}${ranged ? ` (${now.low ?? ''}..${now.high ?? ''})` : ''}`
  }
  const one = (part, says) => html`<label><span>${says}</span><input value=${it[part] ?? ''} inputmode="decimal" autocomplete="off" aria-label=${`${says}, ${label}`} onChange=${(e) => write(part)(e.target.value)} onKeyDown=${keys(leaving, write(part))} /></label>`
  return html`<div class="parts">${one('middle', 'Middle')}${unit && html`<span class="of">${unitText(unit)}</span>`}
    <span class="of">in 8 seasons of 10</span>${one('low', 'from')}${one('high', 'to')}
    ${it.low && it.high && html`<span class="rng-at">${range(+it.low, +it.middle, +it.high)}</span>`}</div>`
}

// Schedule shows the steps of a schedule and takes one more.
export function Schedule({ typed, label, unit, leaving }) {
  const steps = typed.value.split(';').map((s) => { const m = /^\s*(.*?)\s*(?:from\s+(\d{4}-W\d\d))?\s*$/.exec(s); return { value: m[1], week: m[2] ?? '' } })
  const write = (list) => { typed.value = list.map((s, i) => (i ? `${s.value} from ${s.week}` : s.value)).join('; ') }
  const set = (k, change) => write(steps.map((s, i) => (i === k ? { ...s, ...change } : s)))
  const later = (k) => weeks.value.filter((w) => k < 2 || w.name > steps[k - 1].week)
  const add = () => {
    const from = later(steps.length).find((w) => w.name > (steps.at(-1).week || ''))
    if (from) write([...steps, { value: steps.at(-1).value, week: from.name }])
  }
  return html`<div class="steps">${steps.map((s, k) => html`<div key=${k} class="parts"><span class="of">${k ? 'from' : 'at first'}</span>
      ${k > 0 && html`<select aria-label=${`Week of step ${k + 1}, ${label}`} onChange=${(e) => set(k, { week: e.target.value })} onKeyDown=${keys(leaving, () => {})}>${later(k).map((w) => { const i = weeks.value.indexOf(w); return html`<option value=${w.name} selected=${w.name === s.week}>${weekTag(i)}, ${spanText(i)}</option>` })}</select>`}
      <label><input value=${s.value} autocomplete="off" aria-label=${`Value of step ${k + 1}, ${label}`} onChange=${(e) => set(k, { value: e.target.value.trim() })} onKeyDown=${keys(leaving, (text) => set(k, { value: text.trim() }))} /></label>${unit && html`<span class="of">${unitText(unit)}</span>`}
      ${k > 0 && html`<button type="button" class="tool-link" onClick=${() => write(steps.filter((_, i) => i !== k))}>Take out<span class="vh"> step ${k + 1}</span></button>`}</div>`)}
    <button type="button" class="tool-link" onClick=${add}>Add a step</button></div>`
}
