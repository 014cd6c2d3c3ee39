// What moves an amount most: each unsure input goes through its eight seasons of ten,
// the others as they fall; nought is always in view.
import { bands, number as change, scenario, valueOf } from './book.js'
import { html, useEffect, useSignal } from './html.js'
import { pretty, show } from './show.js'
import { driverName, why } from './trace.js'
import { isWeekly } from './value.js'
import { focus, weekTag } from './week.js'
import { askWhy } from './wire.js'

const r = (x) => Math.round(x * 100) / 100

export function Tornado({ name, numbers }) {
  const said = useSignal(null)
  const value = valueOf(name).value
  const weekly = isWeekly(value)
  useEffect(() => {
    if (bands.value !== 'done' || !value || scenario.value) return
    let current = true
    askWhy(name, weekly ? focus.value : undefined).then((m) => { if (current && m.why?.drawn) said.value = m.why.drivers ?? [] })
    return () => { current = false }
  }, [name, change.value, bands.value, weekly && focus.value, scenario.value])
  const list = said.value
  if (!value || value.cells.length > 1 && !weekly) return html`<p class="remark">This picture is of one number.</p>`
  if (scenario.value) return html`<p class="remark">What moves it is said of the plan; choose the plan to see it.</p>`
  if (!list) return html`<p class="faint"><i class="drawing"></i> drawing…</p>`
  if (!list.length) return html`<p class="remark">No guess moves it: it is sure.</p>`
  const plain = value.cells[weekly ? focus.value : 0]
  const ends = list.flatMap((d) => d.ends)
  const low = Math.min(0, plain, ...ends), high = Math.max(0, plain, ...ends)
  const x = (v) => r((v - low) / (high - low || 1) * 100)
  const edge = (d, k) => (d.chance ? (k ? 'happens' : 'does not') : d.low ? pretty(k ? d.high : d.low) : '')
  numbers.value = { heads: ['Guess', 'goes from', 'to', 'then it is', 'or'], rows: list.map((d) => [driverName(d), edge(d, 0), edge(d, 1), pretty(d.says[0]), pretty(d.says[1])]) }
  return html`<div class="tornado"><div class="scale" aria-hidden="true"><span></span><div><small style=${{ left: x(0) + '%' }}>${show(0, value.unit).replace('.00', '')}</small>${Math.abs(x(plain) - x(0)) > 9 && html`<small style=${{ left: x(plain) + '%' }}>${weekly ? weekTag(focus.value) : 'plan'} ${show(plain, value.unit)}</small>`}</div></div>
    <ul>${list.map((d) => {
      const turned = d.ends[0] > d.ends[1]
      const [a, b] = turned ? [1, 0] : [0, 1] // the end that makes it less stands to the left
      const text = `${edge(d, a) || 'less'}: ${pretty(d.says[a])}; ${edge(d, b) || 'more'}: ${pretty(d.says[b])}`
      return html`<li key=${d.name + d.cell}><button class="title" onClick=${() => why(d.name)}>${driverName(d)}<span class="vh">; ${text}</span></button>
        <div aria-hidden="true"><i class="zero-at" style=${{ left: x(0) + '%' }}></i><i class="plan-at" style=${{ left: x(plain) + '%' }}></i>
          <i class="loss" style=${{ left: x(Math.min(d.ends[a], plain)) + '%', width: r(x(plain) - x(Math.min(d.ends[a], plain))) + '%' }}></i><i class="gain" style=${{ left: x(plain) + '%', width: r(x(Math.max(d.ends[b], plain)) - x(plain)) + '%' }}></i>
          <small class="at-less" style=${{ right: r(100 - x(Math.min(d.ends[a], plain))) + '%' }}>${edge(d, a)}</small><small class="at-more" style=${{ left: x(Math.max(d.ends[b], plain)) + '%' }}>${edge(d, b)}</small></div></li>`
    })}</ul></div>`
}
