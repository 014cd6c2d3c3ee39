// A list: its members and what is known of each. Few members with many columns
// stand side by side, a row for each column, so that nobody has to scroll sideways.
import { Wrong, sentence, target, useEdit, usePending } from './edit.js'
import { Editor } from './editor.js'
import { Fragment, html } from './html.js'
import { book, labelOf } from './book.js'
import { dateText, quantity, unitText, words } from './show.js'

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
  if (!header) return html`<${Unread} rows=${rows} />`
  const columns = header.cells.slice(1).map(column)
  const list = rows.filter((r) => r.kind === 'row')
  const label = columns.findIndex((c) => c.name === 'label')
  const shown = columns.map((c, at) => ({ ...c, at: at + 1 })).filter((c) => c.name !== 'label')
  const cell = (row, c) => html`<${Cell} key=${row.name + ' ' + c.name} list=${block.name} row=${row} column=${c} />`
  const head = (row) => html`<b>${label >= 0 ? html`<${Cell} key=${row.name + ' label'} list=${block.name} row=${row} column=${{ ...columns[label], at: label + 1 }} plain />` : words(row.name)}</b><small><code>${row.name}</code></small>`
  const beside = shown.length > MANY_COLUMNS && list.length <= MOST_BESIDE
  return html`<section class="table" data-list=${block.name}><h2 class="head">${words(block.name)}</h2>
    ${beside
      ? html`<div class="scroll" role="region" tabindex="0" aria-label=${words(block.name)}><table class="list beside"><caption class="vh">${words(block.name)}</caption><thead><tr><th scope="col"><span class="vh">What</span></th>${list.map((row) => html`<th scope="col" key=${row.name}>${head(row)}</th>`)}</tr></thead>
          <tbody>${shown.map((c) => html`<tr key=${c.name}><th scope="row">${c.title} <${ColumnTitle} column=${c} /></th>${list.map((row) => html`<td key=${row.name}>${cell(row, c)}</td>`)}</tr>`)}</tbody></table></div>`
      : html`<div class="scroll" role="region" tabindex="0" aria-label=${words(block.name)}><table class="list"><caption class="vh">${words(block.name)}</caption><thead><tr><th scope="col"><span class="vh">Member</span></th>${shown.map((c) => html`<th scope="col" key=${c.name} class=${side(c, list[0]?.cells[c.at])}>${c.title} <${ColumnTitle} column=${c} /></th>`)}</tr></thead>
          <tbody>${list.map((row) => html`<tr key=${row.name}><th scope="row">${head(row)}</th>${shown.map((c) => html`<td key=${c.name} class=${side(c, list[0]?.cells[c.at])}>${cell(row, c)}</td>`)}</tr>`)}</tbody></table></div>`}
    <${Faults} rows=${rows} /><${Remarks} rows=${rows} /></section>`
}

export const ColumnTitle = ({ column: c }) => (c.unit || c.over ? html`<small>${[c.name.startsWith(c.unit) ? '' : unitText(c.unit), c.over ? 'by week' : ''].filter(Boolean).join(', ')}</small>` : null)

// side gives the class of a column: words stand to the left, numbers to the right.
export const side = (c, first) => (c.refers || book.value.axes[c.name] || !/^-?\d|^$/.test(first ?? '') ? 'l' : undefined)

// Cell is one entry of a list, changed in place.
function Cell({ list, row, column: c, plain }) {
  const make = (text) => ({ kind: 'set_cell', name: list, member: row.name, column: c.name, text, ...(pending === undefined ? { was: row.text } : {}) })
  const pending = usePending(target({ kind: 'set_cell', name: list, member: row.name, column: c.name }))?.text
  const written = pending ?? row.cells[c.at] ?? ''
  return html`<${InPlace} make=${make} written=${written} pending=${pending !== undefined} label=${`${c.title} of ${row.name}`} plain=${plain}
    shown=${c.refers || !/\d/.test(written) ? memberText(c, written) : dateText(quantity(written))} />`
}

const memberText = (c, written) => (written.startsWith('"') ? written.slice(1, -1) : written === labelOf(c.refers || c.name, written) ? (/^[a-z][a-z0-9_]*$/.test(written) ? written.replace(/_/g, ' ') : written) : labelOf(c.refers || c.name, written))

// InPlace shows what is written and opens to change it.
export function InPlace({ make, written, shown, pending, label, plain }) {
  const edit = useEdit(make)
  if (edit.open.value) return html`<${Editor} edit=${edit} label=${label} />`
  return html`<button ref=${edit.opener} class=${(plain ? 'plain-cell' : 'cell') + (pending ? ' is-pending' : '')} data-state=${pending ? 'pending' : undefined} onClick=${() => edit.start(written)}><span class="vh">Change ${label}: </span>${shown || html`<span class="blank">blank</span>`}</button>`
}

// Faults shows what is wrong with rows of a table.
export function Faults({ rows }) {
  return html`<${Fragment}>${rows.filter((r) => r.fault && !r.fault.waits).map((r) => html`<div class="wrongbox" key=${r.part} data-state="wrong"><${Wrong} text=${r.text} fault=${r.fault} /><p class="plain"><svg class="i" aria-hidden="true"><use href="#i-bad" /></svg><b>${sentence(r.fault.message)}</b> ${r.fault.hint ? sentence(r.fault.hint) : ''}</p></div>`)}<//>`
}

// Remarks shows the comments that stand in a table's block.
export function Remarks({ rows }) {
  const texts = rows.filter((r) => r.kind === 'comment').map((r) => r.text.replace(/^\s*\/\/\s*/, '').trim()).filter(Boolean)
  return texts.length ? html`<ul class="remarks">${texts.map((t) => html`<li>${t}</li>`)}</ul>` : null
}

// Unread shows a table whose first row does not read, as it is written.
export const Unread = ({ rows }) => html`<section class="table"><pre class="formula">${rows.map((r) => r.text).join('\n')}</pre><${Faults} rows=${rows} /></section>`
