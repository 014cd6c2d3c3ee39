// A chart of the book: lines over the weeks stand tall in the page's time field, apart
// by the members of a list where it says so; what has no weeks has a figure of its
// own. Each has its numbers as a table below it.
import { book, home, labelOf, valueOf } from './book.js'
import { chart, frame } from './draw.js'
import { html, useSignal } from './html.js'
import { Amount, Season } from './figure.js'
import { Columns } from './line.js'
import { Faults } from './list.js'
import { parted } from './name.js'
import { paper } from './paper.js'
import { cellText, show, words } from './show.js'
import { Grid, Stack, atMost } from './stack.js'
import { Tornado } from './tornado.js'
import { collect, isWeekly, part } from './value.js'
import { Lane, Vines, stateOf, vines } from './vines.js'
import { Waterfall, waterfallRows } from './waterfall.js'
import { across, focus, now, pick, span, spanText, weekTag, weeks } from './week.js'

// Side is a table: the members of a list down, and across what the lines and columns
// named say of each. It is for what a person takes in hand, not for a trend.
function Side({ names, title }) {
  const columns = names.map((name) => ({ name, value: valueOf(name).value }))
  const axis = columns.map((c) => c.value?.axes).find((a) => a?.length === 1)?.[0]
  const members = book.value?.axes[axis] ?? []
  const cell = ({ value }, k) => (value?.cells?.length && value.axes.length === 1 && value.axes[0] === axis ? worded(value, k) : 'not known')
  if (!members.length || axis === 'week') return html`<p class="remark">This table names no line that runs over a list.</p>`
  return html`<div class="scroll" role="region" tabindex="0" aria-label=${title}><table class="list"><caption class="vh">${title}</caption><thead><tr><th scope="col">${words(axis)}</th>${columns.map((c) => html`<th scope="col" key=${c.name}>${home(c.name)?.row ? parted(label(c.name)).head : words(c.name.split('.').at(-1))}</th>`)}</tr></thead>
    <tbody>${members.map((m, k) => html`<tr key=${m}><th scope="row">${labelOf(axis, m)}</th>${columns.map((c) => html`<td key=${c.name} data-of=${c.name}>${cell(c, k)}</td>`)}</tr>`)}</tbody></table></div>`
}

// worded gives a cell as it is said; a name such as tank_a with its letter large.
const worded = (value, k) => (value.kind === 'number' ? cellText(value, k) : words(cellText(value, k)).replace(/ ([a-z])$/, (_, c) => ' ' + c.toUpperCase()))

// keys reads the rows "key : value".
const keys = (rows) => Object.fromEntries(rows.map((r) => r.value.text.split('//')[0].split(':').map((s) => s.trim())).filter((p) => p.length === 2))

const label = (name) => home(name)?.row?.value.label || words(name)

// figuresOf gives what a chart over the weeks draws, each with a label.
function figuresOf(names, split) {
  return names.flatMap((name) => {
    const value = valueOf(name).value
    if (!isWeekly(value) || !value.cells.length) return []
    const line = collect(value)
    if (line.parts.length > 1 && (split && value.axes.includes(split) || !value.adds)) return line.parts.map((p) => ({ label: p.label, member: true, note: label(name), value: part(value, p) }))
    return [{ label: label(name), note: '', value }]
  })
}

export function Chart({ block }) {
  const { kind = '', lines = '', split = '' } = keys(block.rows)
  const names = lines.split(',').map((s) => s.trim()).filter(Boolean)
  const title = block.title || 'Chart'
  const rows = block.rows.map((r) => r.value)
  const Figure = { waterfall: Fall, tornado: Storm, phases: Phases, table: Side }[kind] ?? Weeks
  return html`<section class="table" data-chart=${block.title} data-kind=${kind}><div class="table-head"><h2 class="head">${title}</h2></div>
    <${Figure} kind=${kind} names=${names} split=${split} title=${title} /><${Faults} rows=${rows} /></section>`
}

// Table is a chart's numbers, for whom a picture does not serve. They are written out
// when it is opened.
function Table({ title, make }) {
  const open = useSignal(false)
  const shown = open.value || paper.value
  const { heads, rows } = shown ? make() : { heads: [], rows: [] }
  return html`<details class="numbers of-chart" open=${shown} onToggle=${(e) => { if (!paper.peek()) open.value = e.currentTarget.open }}><summary>Numbers of this picture</summary>
    ${shown && html`<div class="scroll" role="region" tabindex="0" aria-label=${`${title}, its numbers`}><table class="list"><caption class="vh">${title}</caption><thead><tr>${heads.map((h) => html`<th scope="col">${h}</th>`)}</tr></thead>
      <tbody>${rows.map((row) => html`<tr class=${row.cur ? 'cur' : ''}>${row.map((c, k) => (k ? html`<td>${c}</td>` : html`<th scope="row">${c}</th>`))}</tr>`)}</tbody></table></div>`}</details>`
}

// byWeek is the table of lines over the weeks.
const byWeek = (parts) => ({
  heads: ['Week', ...parts.map((p) => p.label)],
  rows: weeks.value.map((_, w) => w).filter((w) => w >= span.value.from && w < span.value.to).map((w) => Object.assign([html`${weekTag(w)} <small>${spanText(w)}</small>`, ...parts.map((p) => (typeof p.cells[w] === 'number' ? show(p.cells[w], p.unit) : 'not known'))], { cur: w === focus.value })),
})

const partsOf = (figures) => figures.map(({ label, member, note, value }) => ({ label: member ? label : parted(label).head, note, unit: value.unit, cells: collect(value).rows[0] }))

function Weeks({ kind, names, split, title }) {
  const figures = figuresOf(names, split)
  if (!figures.length) return html`<p class="remark">This picture names no line that runs over the weeks.</p>`
  const stacked = kind === 'stack' && figures.every((f) => f.value.unit === figures[0].value.unit)
  return html`<div class="lines weeks"><div class="wash"></div><div class="string"></div><${Columns} />
      ${stacked ? html`<${Stack} parts=${partsOf(figures)} title=${title} />` : figures.map(({ label, member, note, value }) => html`<${Tall} key=${label + note} label=${label} member=${member} note=${note} value=${value} kind=${kind} />`)}</div>
    <${Table} title=${title} make=${() => byWeek(stacked ? atMost(partsOf(figures)) : partsOf(figures))} />`
}

// Tall is one line, drawn large. The lowest of a level that people live on is named.
function Tall({ label, member, note, value, kind }) {
  const i = focus.value
  const line = collect(value)
  const fan = kind === 'fan'
  const gather = kind === 'columns' ? 'sum' : kind === 'level' ? 'level' : value.gather
  const drawn = { ...line, gather, fan }
  const scale = frame(drawn)
  const top = line.known(i) ? scale.y(line.rows[0][i]) + '%' : '0'
  const { head, tail } = member ? { head: label, tail: '' } : parted(label)
  return html`<div class="line tall"><div class="lab"><div class="name">${head}<small>${[tail, note].filter(Boolean).join('; ')}</small></div></div>
    <div class="time" onClick=${pick}><${Grid} scale=${scale} unit=${value.unit} />
      ${chart({ ...drawn, now: now.value, label: `${label}, week by week; its numbers stand in the table below it` })}${gather === 'level' && html`<${Lowest} row=${line.rows[0]} unit=${value.unit} scale=${scale} />`}<i class="knot" hidden=${!line.known(i)} style=${{ top }}></i></div>
    <div class="vals"><div><${Amount} text=${line.text(i)} /><small>${line.band(i)}</small></div><div class="sum"><${Season} line=${line} gather=${value.gather} /></div></div></div>`
}

// Lowest marks where a level is least, of the weeks that are shown.
function Lowest({ row, unit, scale }) {
  const { from, to } = span.value
  let at = -1
  for (let w = from; w < to; w++) if (typeof row[w] === 'number' && (at < 0 || row[w] < row[at])) at = w
  if (at < 0 || row[at] === 0) return null
  const text = `lowest, ${weekTag(at)}: ${show(row[at], unit)}`
  return html`<span class="lowest" data-text=${text} style=${{ left: across(at + 0.5) + '%', top: scale.y(row[at]) + '%' }}><span class="vh">${text}</span></span>`
}

function Fall({ names, title }) {
  return html`<${Waterfall} names=${names} title=${title} /><${Table} title=${title} make=${() => ({ heads: ['Step', 'moves it by', 'to'], rows: waterfallRows(names) })} />`
}

function Storm({ names, title }) {
  const numbers = useSignal({ heads: [], rows: [] })
  return html`<${Tornado} name=${names[0]} numbers=${numbers} /><${Table} title=${title} make=${() => numbers.value} />`
}

// Phases draws the plantings as the ribbon does, larger, with what each does now.
function Phases({ names, title }) {
  const all = vines(valueOf(names[0] ?? 'harvest').value)
  if (!all.length) return html`<p class="remark">No list of the book says what was sown and cleared.</p>`
  const i = focus.value
  return html`<div class="lines weeks"><div class="wash"></div><div class="string"></div><${Columns} />
    <div class="line phases" style=${{ '--lanes': all.length }}><ul class="lab">${all.map((v) => html`<li key=${v.member}>${v.label}</li>`)}</ul><div class="time" onClick=${pick}><${Vines} vines=${all} /></div><ul class="vals">${all.map((v) => html`<li key=${v.member}><${Lane} state=${stateOf(v, i)} /></li>`)}</ul></div></div>
    <${Table} title=${title} make=${() => ({ heads: ['Planting', 'its season', weekTag(i)], rows: all.map((v) => { const s = stateOf(v, i); return [v.label, v.says, [s.text, s.amount].filter(Boolean).join(', ')] }) })} />`
}
