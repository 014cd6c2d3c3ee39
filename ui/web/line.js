// A line of the book: an input or a computed value, one figure or one for each
// week. Weekly lines share the page's time field, so that the string of the focus
// week goes through all of them.
import { bands, beforeOf, home, valueOf } from './book.js'
import { chart, range } from './draw.js'
import { Editor, Formula, Put, usePending, placeOfWritten, sentence, target, useEdit, withWritten } from './edit.js'
import { html, icon, useSignal } from './html.js'
import { quantity, split, typed, typedText, words } from './show.js'
import { collect, figures, isWeekly, part, summary } from './value.js'
import { why } from './trace.js'
import { focus, now, pick, spanText, weeks, weekTag, whenText } from './week.js'

const AT_ONCE = 150 // rows of a block shown before one asks for more

// Lines shows a block of lines in the order of the book.
export function Lines({ block }) {
  const many = useSignal(AT_ONCE)
  const rows = block.rows.slice(0, many.value)
  const weekly = rows.some((row) => isWeekly(valueOf(row.value.name ?? '').value))
  return html`<section class=${'lines' + (weekly ? ' weeks' : '')}>
    ${weekly && html`<div class="wash"></div><div class="string"></div><${Columns} />`}
    ${rows.map((row) => html`<${Row} key=${row.value.name || row.value.part} row=${row} />`)}
    ${block.rows.length > many.value && html`<button class="more-rows" onClick=${() => { many.value += AT_ONCE }}>Show ${Math.min(AT_ONCE, block.rows.length - many.value)} more of ${block.rows.length} lines</button>`}
  </section>`
}

export function Columns() {
  const i = focus.value
  return html`<div class="cols" aria-hidden="true"><div></div><div class="time"><span class="tag">${weekTag(i)}</span></div><div class="vals"><span>${i === now.value ? 'this week' : weekTag(i)}</span><span>season</span></div></div>`
}

function Row({ row }) {
  const it = row.value
  if (it.kind === 'comment') {
    const text = it.text.replace(/^\s*\/\/\s*/, '')
    return text.trim() ? html`<p class="remark">${text}</p>` : null
  }
  return html`<${Line} row=${it} />`
}

export const lineKey = (row) => target({ kind: 'set_line', name: row.name, was: row.text })

function Line({ row }) {
  const value = valueOf(row.name ?? '').value
  const pending = usePending(lineKey(row))
  // What waits to be sent is what the next edit starts from.
  const seen = pending ? { ...row, text: pending.text } : row
  const edit = useEdit((text) => ({ kind: 'set_line', ...(row.name ? { name: row.name } : {}), was: seen.text, text: pending ? text : withWritten(row, text) }))
  const start = () => edit.start(pending ? pending.text : row.written)
  const fault = row.fault && !row.fault.waits ? row.fault : null
  const state = pending ? 'pending' : fault ? 'wrong' : value?.stale ? 'stale' : undefined
  const weekly = isWeekly(value)
  const opened = useSignal(false)
  const i = weekly ? focus.value : 0
  const name = row.label || words(row.name || 'A line that cannot be read')
  return html`<div class=${(weekly ? 'line' : 'line scal') + (edit.open.value ? ' editing' : '') + (state ? ' is-' + state : '')} id=${row.name ? 'line-' + row.name : undefined}
      data-line=${row.name} data-value=${summary(value, i)} data-state=${state}>
    ${weekly ? html`<${Weekly} row=${row} name=${name} value=${value} edit=${edit} opened=${opened} state=${state} />` : html`<${Scalar} row=${row} name=${name} value=${value} edit=${edit} start=${start} state=${state} pending=${pending} />`}
    ${edit.open.value && html`<${Editor} edit=${edit} name=${row.name} names=${!row.input || pending} label=${(row.input ? 'Value of ' : 'Formula of ') + name} hint=${row.unit ? 'in ' + row.unit : ''} />`}
    ${!edit.open.value && fault && html`<${Mend} row=${row} fault=${fault} edit=${edit} start=${start} />`}
    ${weekly && opened.value && html`<${Opened} row=${row} name=${name} value=${value} edit=${edit} start=${start} quiet=${edit.open.value || fault} />`}
    ${row.fault?.waits && html`<p class="waits">Waits for <a href=${'#/line/' + row.fault.waits} onClick=${(e) => goTo(e, row.fault.waits)}>${home(row.fault.waits)?.row?.value.label || row.fault.waits}</a>.</p>`}
    ${!fault && !row.fault && value?.fault && html`<p class="waits">${sentence(value.fault.message)}</p>`}
  </div>`
}

// Mend shows what is wrong with a row, in the part that is edited if it is there.
function Mend({ row, fault, edit, start }) {
  const at = placeOfWritten(row)
  const inside = at >= 0 && fault.from >= at && fault.to <= at + row.written.length
  const text = inside ? row.written : row.text
  const use = (better) => { edit.start(row.written); edit.keep(inside ? better : better.slice(at, better.length - (row.text.length - at - row.written.length))) }
  return html`<${Put} text=${text} fault=${inside ? { ...fault, from: fault.from - at, to: fault.to - at } : fault} onUse=${use} onEdit=${start} />`
}

function goTo(e, name) {
  const there = document.getElementById('line-' + name)
  if (!there) { location.hash = '#/line/' + name; return }
  e.preventDefault()
  there.scrollIntoView({ block: 'center' })
  there.querySelector('button')?.focus()
}

const Mark = ({ state }) => (state === 'stale' || state === 'wrong' ? html`<small class="stale">stale</small>` : state === 'pending' ? html`<small class="unsaved">not saved yet</small>` : null)

// Was shows what a figure was before someone else changed it.
function Was({ name, now: text, week = 0 }) {
  const old = beforeOf(name ?? '').value
  const was = old && summary(old, week)
  return was && was !== text ? html`<small class="was">was ${was}</small>` : null
}

// Source says where an input comes from, or how a line is computed.
function Source({ row, edit, start, name }) {
  if (row.input) return html`<span>${row.source || ''}</span>`
  if (!row.written) return html`<span></span>`
  return html`<button class="open-formula" ref=${edit.opener} onClick=${start}><span class="vh">Change the formula of ${name}: </span><${Formula} text=${row.written} /></button>`
}

function Scalar({ row, name, value, edit, start, state, pending }) {
  const list = value?.cells?.length ? figures(value) : []
  const one = list.length === 1 ? list[0] : null
  const text = one ? one.text : list.length ? summary(value, 0) : 'no value yet'
  const own = row.input && asTyped(row.written, one, value)
  const { number, unit } = own ? split(own.text) : split(text)
  const shown = html`<b>${number}</b>${unit && html` <small>${unit.trim()}</small>`}`
  return html`
    <div class="lab"><div class="name">${name}${row.label && row.name ? html`<small><code>${row.name}</code></small>` : ''}</div></div>
    <div class="one">${row.input
      ? html`<button class="chip" ref=${edit.opener} onClick=${start}><span class="vh">Change ${name}: </span>${pending ? html`<b>${quantity(writtenOf(pending.text))}</b>` : shown}</button>`
      : html`<button class="calc why" onClick=${() => why(row.name)}><span class="vh">Why ${name} is </span>${shown}</button>`}<${Mark} state=${state === 'wrong' && !value?.stale ? undefined : state} /><${Was} name=${row.name} now=${text} /></div>
    <div class="rng">${one && range(one.low, one.x, one.high)}<span>${own?.band || one?.band || one?.odds || (value?.waits && bands.value === 'drawing' ? html`<i class="drawing"></i><span class="vh">drawing…</span>` : '')}</span></div>
    <div class="src"><${Source} row=${row} edit=${edit} start=${start} name=${name} /></div>
    ${list.length > 1 && html`<dl class="each">${list.map((f) => html`<div><dt>${f.label}</dt><dd>${split(f.text).number}${(f.band || f.odds) && html` <small>${f.band || f.odds}</small>`}</dd></div>`)}</dl>`}`
}

// asTyped gives an input's figure and range as they were typed, which is how exact
// they are; null when something else holds, a pin or another value for once.
function asTyped(written, one, value) {
  if (/^chance\(/.test(written)) return { text: quantity(written), band: '' }
  const it = typed(written)
  if (!it || !one || it.unit !== value.unit || Math.abs(it.middle - one.x) > 1e-9 * Math.abs(one.x)) return null
  return { text: typedText(it.middle, it.unit), band: it.low ? `${split(typedText(it.low, it.unit)).number} to ${split(typedText(it.high, it.unit)).number}` : '' }
}

// Amount sets a figure's unit smaller than its number.
export const Amount = ({ text }) => { const { number, unit } = split(text); return html`<b class=${text === 'not known' ? 'blank' : undefined}>${number}</b>${unit && html`<span class="unit">${unit}</span>`}` }

// writtenOf guesses the right side of a row that the server has not read yet.
const writtenOf = (text) => text.replace(/^[^:=]*[:=]\s*/, '').replace(/\s*(->|\/\/).*$/, '')

const gathered = { sum: '', mean: 'mean', level: 'at the end' }

// Season is what the weeks come to, put together as the line gathers.
export const Season = ({ line, gather }) => {
  const text = line.season()
  const { number, unit } = split(text)
  const long = text.length > 14
  const below = [long && unit.trim(), number && gathered[gather]].filter(Boolean).join(', ')
  return html`${number}${!long && unit && html`<span class="unit">${unit}</span>`}${below && html`<small>${below}</small>`}`
}

function Weekly({ row, name, value, edit, opened, state }) {
  const i = focus.value
  const line = collect(value)
  const stale = value.stale
  return html`
    <div class="lab"><button class="exp" aria-expanded=${opened.value} aria-label=${`Weeks and formula of ${name}`} ref=${opened.value ? null : edit.opener} onClick=${() => { opened.value = !opened.value }}>${icon('chev')}</button>
      <div class="name">${name}<small>${row.label && html`<code>${row.name}</code> `}${line.note}</small></div></div>
    <div class="time" onClick=${pick}>${line.number && html`${chart({ ...line, now: now.value, label: `${name}, week by week; its numbers stand in the table below it` })}
      <i class="knot" hidden=${!line.known(i)} style=${{ top: line.known(i) ? line.at(i) : '0' }}></i>`}</div>
    <div class="vals"><div><button class="why" onClick=${() => why(row.name)}><span class="vh">Why ${name} is </span><${Amount} text=${line.text(i)} /></button>${stale || state === 'pending' ? html`<${Mark} state=${state === 'wrong' ? 'stale' : state} />`
      : value.waits && bands.value === 'drawing' ? html`<small><i class="drawing"></i><span class="vh">drawing…</span></small>`
        : html`<small>${line.band(i)}</small>`}<${Was} name=${row.name} now=${line.text(i)} week=${i} /></div>
      <div class="sum"><${Season} line=${line} gather=${value.gather} /></div></div>`
}

// Opened is what lies under a weekly line: its members, its formula, its numbers.
// The formula is left out (quiet) while it stands above, being changed or in error.
function Opened({ row, name, value, edit, start, quiet }) {
  const i = focus.value
  const line = collect(value)
  const parts = line.parts.length > 1 ? line.parts : []
  return html`<div class="opened">
    ${line.number && parts.map((p) => { const one = collect(part(value, p)); return html`<div class="member" key=${p.label}><div class="lab">${p.label}</div>
      <div class="time" onClick=${pick}>${chart({ ...one, now: now.value, label: `${name}, ${p.label}, week by week` })}<i class="knot" hidden=${!one.known(i)} style=${{ top: one.known(i) ? one.at(i) : '0' }}></i></div>
      <div class="vals"><div><${Amount} text=${one.text(i)} /><small>${one.band(i)}</small></div><div class="sum"><${Season} line=${one} gather=${value.gather} /></div></div></div>` })}
    ${!quiet && html`<div class="how"><div class="lab">${row.input ? 'As written' : 'Formula'}</div>
      <div class="formula-at">${row.input
        ? html`<button class="chip" ref=${edit.opener} onClick=${start}><span class="vh">Change ${name}: </span>${quantity(row.written)}</button>`
        : html`<button class="open-formula" ref=${edit.opener} onClick=${start}><span class="vh">Change the formula of ${name}: </span><${Formula} text=${row.written} /></button>`}
        ${row.source && html`<p class="src">${row.source}</p>`}</div></div>`}
    <details class="numbers"><summary>Numbers of all weeks</summary><${Numbers} name=${name} line=${line} /></details>
  </div>`
}

function Numbers({ name, line }) {
  const parts = line.parts
  const many = parts.length > 1
  return html`<div class="scroll" role="region" tabindex="0" aria-label=${`${name}, numbers of all weeks`}><table class="list">
    <caption class="vh">${name}, week by week</caption>
    <thead><tr><th scope="col">Week</th>${parts.map((p) => html`<th scope="col">${p.label || name}</th>`)}${!many && line.low && html`<th scope="col">8 in 10 seasons</th>`}</tr></thead>
    <tbody>${weeks.value.map((w, k) => html`<tr class=${k === focus.value ? 'cur' : ''}><th scope="row">${weekTag(k)} <small>${spanText(k)}${k === focus.value ? `, ${whenText(k)}` : ''}</small></th>
      ${parts.map((p, m) => html`<td>${line.textOf(m, k)}</td>`)}${!many && line.low && html`<td>${line.band(k)}</td>`}</tr>`)}</tbody></table></div>`
}
