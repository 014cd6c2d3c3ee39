// A line that runs over the weeks: its picture in the page's time field, the focus
// week's figure and the season's; and what lies under it when it is opened.
import { bands, book, valueOf } from './book.js'
import { chart, sample } from './draw.js'
import { Formula } from './edit.js'
import { html, icon, useSignal } from './html.js'
import { Amount, Mark, Season, Was } from './figure.js'
import { Name, fullName, together } from './name.js'
import { Pin, pinned } from './pin.js'
import { quantity } from './show.js'
import { Numbers, Strip } from './strip.js'
import { why } from './trace.js'
import { collect, part } from './value.js'
import { across, focus, inSpan, now, pick, weekTag } from './week.js'

const Knot = ({ line, i, fan }) => html`<i class="knot" hidden=${!line.known(i)} style=${{ top: line.known(i) ? line.at(i, fan) : '0' }}></i>`

// Held marks the weeks whose value people hold by hand.
const Held = ({ line, at, fan }) => at.filter((i) => line.known(i) && inSpan(i)).map((i) => html`<i class="held-at" key=${i} style=${{ left: `${across(i + 0.5)}%`, top: line.at(i, fan) }}></i>`)

export function Weekly({ row, name, value, edit, opened, state }) {
  const i = focus.value
  const line = collect(value)
  return html`
    <div class="lab"><button class="exp" aria-expanded=${opened.value} aria-label=${`Weeks and formula of ${name}`} ref=${opened.value ? null : edit.opener} onClick=${() => { opened.value = !opened.value }}>${icon('chev')}</button>
      <${Name} row=${row} note=${together(value)} /></div>
    <div class="time" onClick=${pick}>${line.number && html`${chart({ ...line, now: now.value, label: `${name}, week by week; its numbers stand in the table below it` })}
      <${Held} line=${line} at=${pinned(row.name)} /><${Knot} line=${line} i=${i} />`}</div>
    <div class="vals"><div><button class="why" onClick=${() => why(row.name)}><span class="vh">Why ${name} is </span><${Amount} text=${line.text(i)} /></button>${value.stale || state === 'pending' ? html`<${Mark} state=${state === 'wrong' ? 'stale' : state} since=${value.since} />`
      : value.waits && bands.value === 'drawing' ? html`<small><i class="drawing"></i><span class="vh">drawing…</span></small>`
        : html`<small>${line.band(i)}</small>`}<${Was} name=${row.name} now=${line.text(i)} week=${i} /></div>
      <div class="sum"><${Season} line=${line} gather=${value.gather} /></div></div>`
}

// names gives the members of each part of a value, as formulas call them.
function names(value) {
  let list = [[]]
  for (const axis of value.axes.slice(0, -1)) list = list.flatMap((m) => (book.peek()?.axes[axis] ?? []).map((name) => [...m, name]))
  return list
}

const FEW = 4 // members that do not add up, whose numbers stand under their weeks; of others, the table has them

// AllWeeks is the table of all weeks, written out when it is asked for.
function AllWeeks({ name, line }) {
  const wanted = useSignal(false)
  const want = () => { wanted.value = true }
  return html`<details class="numbers" onToggle=${want}><summary onClick=${want}>Numbers of all weeks</summary>${wanted.value && html`<${Numbers} name=${name} line=${line} />`}</details>`
}

// Opened is what lies under a weekly line: its numbers, its members, its formula.
// The formula is left out (quiet) while it stands above, being changed or in error.
export function Opened({ row, name, value, edit, start, quiet }) {
  const i = focus.value
  const line = collect(value)
  const members = names(value)
  const parts = line.parts.length > 1 ? line.parts : []
  const pins = line.number && !row.input && row.name && i >= now.value
  const pin = (k, title) => html`<${Pin} key=${members[k].join() + i} name=${row.name} title=${title} i=${i} members=${members[k]} unit=${value.unit} />`
  return html`<div class="opened">
    ${line.number && line.rows.length === 1 && html`<div class="weeks-of"><div class="lab">Week by week<small>dark: what is over</small></div><${Strip} cells=${line.rows[0]} held=${parts.length ? [] : pinned(row.name)} />
      <div class="vals">${!parts.length && pins ? pin(0, name) : ''}</div></div>`}
    ${line.number && parts.map((p, k) => { const one = collect(part(value, p)); return html`<div class="member" key=${p.label}><div class="lab">${line.rows.length > 1 && sample(k)}${p.label}</div>
      <div class="time" onClick=${pick}>${chart({ ...one, now: now.value, label: `${name}, ${p.label}, week by week` })}<${Held} line=${one} at=${pinned(row.name, members[k])} /><${Knot} line=${one} i=${i} /></div>
      <div class="vals"><div><button class="why" onClick=${() => why(row.name, k)}><span class="vh">Why ${name}, ${p.label} is </span><${Amount} text=${one.text(i)} /></button><small>${one.band(i)}</small></div><div class="sum"><${Season} line=${one} gather=${value.gather} /></div></div>
      ${line.rows.length > 1 && parts.length <= FEW && html`<${Strip} cells=${p.cells} held=${pinned(row.name, members[k])} />`}
      ${pins && html`<div class="pin-at">${pin(k, p.label)}</div>`}</div>` })}
    ${!quiet && html`<div class="how"><div class="lab">${row.input ? 'As written' : 'How it is reckoned'}</div>
      <div class="formula-at">${row.input
        ? html`<button class="chip" ref=${edit.opener} onClick=${start}><span class="vh">Change ${name}: </span>${quantity(row.written)}</button>`
        : html`<button class="open-formula" ref=${edit.opener} onClick=${start}><span class="vh">Change the formula of ${name}: </span><${Formula} text=${`${row.name} = ${row.written}`} /></button>`}
        ${row.source && html`<p class="src">${row.source}</p>`}</div></div>`}
    <${AllWeeks} name=${name} line=${line} />
  </div>`
}
