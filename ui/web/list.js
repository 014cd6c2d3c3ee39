// A list: its members and what is known of each. Few members with many columns
// stand side by side, a row for each column, so that nobody has to scroll sideways.
import { book, labelOf } from './book.js'
import { Cell, InPlace, memberText } from './cell.js'
import { Wrong, sentence, target, usePending } from './edit.js'
import { Fragment, html, icon, useLayoutEffect, useRef, useSignal } from './html.js'
import { plural } from './name.js'
import { unitText, words } from './show.js'
import { why } from './trace.js'
import { change, entries } from './wire.js'

export { InPlace }

const MOST_BESIDE = 4 // members that still fit side by side
const MANY_COLUMNS = 6

// column reads a header's cell: "night over week degF", "next -> planting".
export function column(text) {
  const [left, refers] = text.split('->').map((s) => s.trim())
  const [name, ...rest] = left.split(/\s+/)
  const over = rest[0] === 'over' ? rest[1] : ''
  return { name, over, unit: rest.slice(over ? 2 : 0).join(' '), refers: refers ?? '', title: words(name) }
}

export function List({ block }) {
  const rows = block.rows.map((r) => r.value)
  const header = rows.find((r) => r.kind === 'header')
  const adding = useSignal(false)
  if (!header) return html`<${Unread} rows=${rows} />`
  const columns = header.cells.slice(1).map(column)
  const list = rows.filter((r) => r.kind === 'row')
  const label = columns.findIndex((c) => c.name === 'label')
  const shown = columns.map((c, at) => ({ ...c, at: at + 1 })).filter((c) => c.name !== 'label')
  const called = (row) => (label >= 0 && row.cells[label + 1]) || words(row.name)
  const cell = (row, c) => html`<${Cell} key=${row.name + ' ' + c.name} list=${block.name} row=${row} column=${c} wrong=${cellOf(row) === c.at} />`
  const head = (row) => html`<b>${label >= 0 ? html`<${Cell} key=${row.name + ' label'} list=${block.name} row=${row} column=${{ ...columns[label], at: label + 1 }} plain />` : words(row.name)}</b><${MemberTools} list=${block.name} row=${row} called=${called(row)} />`
  const title = (c) => html`<button class="title" onClick=${() => why(`${block.name}.${c.name}`)}>${c.title}<span class="vh">: what uses it</span></button> <${ColumnTitle} column=${c} />`
  const beside = shown.length > MANY_COLUMNS && list.length <= MOST_BESIDE
  const one = words(block.name)
  const blanks = list.some((row) => shown.some((c) => !row.cells[c.at]))
  return html`<section class="table" data-list=${block.name}><div class="table-head"><h2 class="head">${words(plural(block.name))} <small>${list.length}</small></h2>${!adding.value && html`<button class="tool-link" onClick=${() => { adding.value = true }}>Add ${/^[aeiou]/i.test(one) ? 'an' : 'a'} ${one.toLowerCase()}</button>`}</div>
    ${adding.value && html`<${NewMember} list=${block.name} rows=${list} columns=${columns} called=${called} close=${() => { adding.value = false }} />`}
    ${beside
      ? html`<div class="scroll" role="region" tabindex="0" aria-label=${one}><table class="list beside"><caption class="vh">${one}</caption><thead><tr><th scope="col"><span class="vh">What</span></th>${list.map((row) => html`<th scope="col" key=${row.name}>${head(row)}</th>`)}</tr></thead>
          <tbody>${shown.map((c) => html`<tr key=${c.name}><th scope="row">${title(c)}</th>${list.map((row) => html`<td key=${row.name}>${cell(row, c)}</td>`)}</tr>`)}</tbody></table></div>`
      : html`<div class="scroll" role="region" tabindex="0" aria-label=${one}><table class="list"><caption class="vh">${one}</caption><thead><tr><th scope="col"><span class="vh">Member</span></th>${shown.map((c) => html`<th scope="col" key=${c.name} class=${side(c, list[0]?.cells[c.at])}>${title(c)}</th>`)}</tr></thead>
          <tbody>${list.map((row) => html`<tr key=${row.name}><th scope="row">${head(row)}</th>${shown.map((c) => html`<td key=${c.name} class=${side(c, list[0]?.cells[c.at])}>${cell(row, c)}</td>`)}</tr>`)}</tbody></table></div>`}
    ${blanks && html`<p class="blank-note">Blank is not zero: what reads a blank is not known there.</p>`}
    <${Faults} rows=${rows} columns=${columns} called=${called} /><${Remarks} rows=${rows} /></section>`
}

// cellOf gives which cell of a row is at fault, from 1; 0 when it is the row.
function cellOf(row) {
  if (!row.fault || row.fault.waits) return 0
  let n = 0, quoted = false
  for (const c of row.text.slice(0, row.fault.from)) { if (c === '"') quoted = !quoted; else if (c === '|' && !quoted) n++ }
  return n
}

// MemberTools is what can be done with a member: it shows the name that formulas use,
// and takes the member out, when one has said so twice.
function MemberTools({ list, row, called }) {
  const sure = useSignal(false)
  const edit = { kind: 'remove_member', name: list, member: row.name, was: row.text }
  const goes = usePending(target(edit))
  const opener = useRef(null)
  if (goes) return html`<small class="unsaved">not saved yet</small>`
  if (sure.value) return html`<span class="sure"><small>Take ${called} out?</small><button class="tool-link" onClick=${() => change(edit)}>Take out</button><button class="tool-link" onClick=${() => { sure.value = false; requestAnimationFrame(() => opener.current?.focus()) }}>Keep</button></span>`
  return html`<span class="member-tools"><code>${row.name}</code><button ref=${opener} class="tool-link" onClick=${() => { sure.value = true }}>Take out<span class="vh"> ${called}</span></button></span>`
}

const nameFrom = (label, taken) => {
  const base = label.toLowerCase().replace(/[^a-z0-9]+/g, '_').replace(/^[_0-9]+|_+$/g, '') || 'new_one'
  let name = base
  for (let i = 2; taken.includes(name); i++) name = `${base}_${i}`
  return name
}

// NewMember asks for one more: what it is called, and which one it is like; what is
// different is then changed in its cells.
function NewMember({ list, rows, columns, called, close }) {
  const form = useRef(null)
  const fault = useSignal(null)
  useLayoutEffect(() => form.current.elements[0].focus(), [])
  const one = words(list).toLowerCase()
  const keep = async (e) => {
    e.preventDefault()
    const label = form.current.elements.label.value.trim()
    const like = rows.find((row) => row.name === form.current.elements.like.value)
    const cells = {}
    columns.forEach((c, at) => { if (like?.cells[at + 1]) cells[c.name] = like.cells[at + 1] })
    if (columns.some((c) => c.name === 'label')) cells.label = label
    fault.value = await change({ kind: 'add_member', name: list, member: nameFrom(label, rows.map((r) => r.name)), cells })
    if (!fault.value) close()
  }
  return html`<form class="new-record" ref=${form} onSubmit=${keep} onKeyDown=${(e) => { if (e.key === 'Escape') close() }}>
    <label><span>The new ${one} is called</span><input name="label" class="wide" required autocomplete="off" /></label>
    <label><span>and is like</span><select name="like">${rows.map((row) => html`<option value=${row.name}>${called(row)}</option>`)}<option value="">none: leave its cells blank</option></select></label>
    <div class="acts"><button class="act">Add this ${one}</button><button class="act second" type="button" onClick=${close}>Leave it</button></div>
    ${fault.value && html`<p class="plain" role="alert">${icon('bad')}<b>${sentence(fault.value.message)}</b> ${fault.value.hint ?? ''}</p>`}</form>`
}

export const ColumnTitle = ({ column: c }) => (c.unit || c.over ? html`<small>${[c.name.startsWith(c.unit) ? '' : unitText(c.unit), c.over ? 'by week' : ''].filter(Boolean).join(', ')}</small>` : null)

// side gives the class of a column: words stand to the left, numbers to the right.
export const side = (c, first) => (c.refers || book.value.axes[c.name] || !/^-?\d|^$/.test(first ?? '') ? 'l' : undefined)

// Faults shows what is wrong with rows of a table: where a cell is at fault, it alone.
export function Faults({ rows, columns, called }) {
  const one = (row) => {
    const at = columns ? cellOf(row) : 0
    const c = at > 0 && columns[at - 1]
    if (!c) return html`<${Wrong} text=${row.text} fault=${row.fault} />`
    return html`<p class="where">${called(row)}, ${c.title.toLowerCase()}: <code class="formula wave">${row.cells[at]}</code></p>`
  }
  return html`<${Fragment}>${rows.filter((r) => r.fault && !r.fault.waits).map((r) => html`<div class="wrongbox" key=${r.part} data-state="wrong"><div>${one(r)}<p class="plain">${icon('bad')}<b>${sentence(r.fault.message)}</b> ${r.fault.hint ? sentence(r.fault.hint) : ''}</p></div></div>`)}<//>`
}

// Remarks shows the comments that stand in a table's block: most often, who says so.
export function Remarks({ rows }) {
  const texts = rows.filter((r) => r.kind === 'comment').map((r) => r.text.replace(/^\s*\/\/\s*/, '').trim()).filter(Boolean)
  if (!texts.length) return null
  const list = html`<ul class="remarks">${texts.map((t) => html`<li>${t}</li>`)}</ul>`
  return texts.join('').length < 90 ? list : html`<details class="says-who"><summary>Who says so</summary>${list}</details>`
}

// Unread shows a table whose first row does not read, as it is written.
export const Unread = ({ rows }) => html`<section class="table"><pre class="formula">${rows.map((r) => r.text).join('\n')}</pre><${Faults} rows=${rows} /></section>`
