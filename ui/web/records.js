// Records: what was weighed, counted, metered and paid, the newest first. A record
// is corrected in place; what stood there before stays in the book's history.
import { book, labelOf } from './book.js'
import { usePending, sentence, target } from './edit.js'
import { html, useLayoutEffect, useRef, useSignal } from './html.js'
import { InPlace } from './cell.js'
import { column, ColumnTitle, Faults, Remarks, side, Unread } from './list.js'
import { dateText, quantity, words } from './show.js'
import { why } from './trace.js'
import { change, entries } from './wire.js'

const AT_ONCE = 8

export function Records({ block }) {
  const many = useSignal(AT_ONCE)
  const adding = useSignal(false)
  const rows = block.rows.map((r) => r.value)
  const header = rows.find((r) => r.kind === 'header')
  if (!header) return html`<${Unread} rows=${rows} />`
  const columns = header.cells.map((text, at) => ({ ...column(text), at }))
  const list = rows.filter((r) => r.kind !== 'header' && r.kind !== 'comment').map((row, i) => ({ row, record: i + 1 })).reverse()
  const sides = columns.map((c) => (c.at ? side(c, list[0]?.row.cells?.[c.at]) : 'l'))
  const coming = entries.value.filter((e) => e.edit?.kind === 'add_record' && e.edit.name === block.name).reverse()
  const title = words(block.name)
  return html`<section class="table" data-records=${block.name}>
    <div class="table-head"><h2 class="head">${title}</h2>${!adding.value && html`<button class="act second" onClick=${() => { adding.value = true }}>Record ${title.toLowerCase()}</button>`}</div>
    ${adding.value && html`<${NewRecord} name=${block.name} columns=${columns} last=${list[0]?.row} close=${() => { adding.value = false }} />`}
    <div class="scroll" role="region" tabindex="0" aria-label=${title}><table class="list"><caption class="vh">${title}, the newest first</caption>
      <thead><tr>${columns.map((c) => html`<th scope="col" key=${c.name} class=${sides[c.at]}>${c.at ? html`<button class="title" onClick=${() => why(`${block.name}.${c.name}`)}>${c.title}<span class="vh">: what uses it</span></button>` : c.title} <${ColumnTitle} column=${c} /></th>`)}<td></td></tr></thead>
      <tbody>${coming.map((e) => html`<tr key=${e.id} class="is-pending" data-state="pending">${columns.map((c) => html`<td key=${c.name} class=${sides[c.at]}>${shown(c, e.edit.cells[c.name] ?? '')}</td>`)}<td class="row-tools"></td></tr>`)}
        ${list.slice(0, many.value).map(({ row, record }) => html`<tr key=${record}>${columns.map((c) => html`<td key=${c.name} class=${sides[c.at]}><${RecordCell} name=${block.name} row=${row} record=${record} column=${c} /></td>`)}<td class="row-tools"><${Gone} name=${block.name} row=${row} record=${record} /></td></tr>`)}</tbody></table></div>
    ${list.length > many.value && html`<button class="more-rows" onClick=${() => { many.value = many.value === AT_ONCE ? 100 : many.value + 100 }}>Show ${Math.min(100, list.length - many.value)} earlier of ${list.length}</button>`}
    <${Faults} rows=${rows} /><${Remarks} rows=${rows} /></section>`
}

const shown = (c, text) => (/^\d{4}-/.test(text) ? dateText(text) : /^[a-z]/.test(text) ? labelOf(c.refers || c.name, text) : quantity(text))

function RecordCell({ name, row, record, column: c }) {
  const key = { kind: 'correct_record', name, record, cells: { [c.name]: '' } }
  const pending = usePending(target(key))?.cells[c.name]
  const make = (text) => ({ ...key, cells: { [c.name]: text }, ...(pending === undefined ? { was: row.text } : {}) })
  const written = pending ?? row.cells?.[c.at] ?? ''
  return html`<${InPlace} make=${make} written=${written} column=${c} shown=${shown(c, written)} pending=${pending !== undefined} label=${`${c.title} of record ${record}`} />`
}

// Gone takes a record out, when one has said so twice; the book's history keeps it.
function Gone({ name, row, record }) {
  const sure = useSignal(false)
  const edit = { kind: 'remove_record', name, record, was: row.text }
  const goes = usePending(target(edit))
  if (goes) return html`<small class="unsaved">not saved yet</small>`
  if (!sure.value) return html`<button class="tool-link" onClick=${() => { sure.value = true }}>Take out<span class="vh"> record ${record}</span></button>`
  return html`<span class="sure"><button class="tool-link" onClick=${() => { sure.value = false; change(edit) }}>Take it out</button><button class="tool-link" onClick=${() => { sure.value = false }}>Keep</button></span>`
}

// NewRecord asks for one more record. It stays open for the next one, as one
// weighs and counts several in a row.
function NewRecord({ name, columns, last, close }) {
  const form = useRef(null)
  const fault = useSignal(null)
  useLayoutEffect(() => form.current.elements[0].focus(), []) // at once: a late one takes the focus from who types already
  const choices = (c) => book.value.axes[c.refers || c.name]
  const keep = async (e) => {
    e.preventDefault()
    const cells = {}
    for (const c of columns) { const text = form.current.elements[c.name].value.trim(); if (text) cells[c.name] = text }
    for (const c of columns) if (!choices(c) && c.name !== 'date') form.current.elements[c.name].value = ''
    form.current.elements[columns.find((c) => c.at > 0 && !choices(c))?.name ?? 'date'].focus()
    fault.value = await change({ kind: 'add_record', name, cells })
    if (fault.value) for (const [k, text] of Object.entries(cells)) form.current?.elements[k] && (form.current.elements[k].value = text)
  }
  const today = book.value.as_of.slice(0, 10)
  return html`<form class="new-record" ref=${form} onSubmit=${keep} onKeyDown=${(e) => { if (e.key === 'Escape') close() }}>
    ${columns.map((c) => html`<label key=${c.name}><span>${c.title} <${ColumnTitle} column=${c} /></span>${choices(c)
      ? html`<select name=${c.name}>${choices(c).map((m) => html`<option value=${m} selected=${last?.cells?.[c.at] === m}>${labelOf(c.refers || c.name, m)}</option>`)}</select>`
      : html`<input name=${c.name} type=${c.name === 'date' ? 'date' : 'text'} defaultValue=${c.name === 'date' ? today : ''} required=${c.name === 'date'} inputmode=${c.name === 'date' ? undefined : 'decimal'} autocomplete="off" />`}</label>`)}
    <div class="acts"><button class="act">Keep this record</button><button class="act second" type="button" onClick=${close}>Done</button></div>
    ${fault.value && html`<p class="plain" role="alert"><svg class="i" aria-hidden="true"><use href="#i-bad" /></svg><b>${sentence(fault.value.message)}</b> ${fault.value.hint ?? ''}</p>`}</form>`
}
