// Why a number is what it is: its formula, what the formula is made of, each of
// which can be asked in turn, down to inputs with their ranges and sources; and
// what uses it.
import { book, home, valueOf } from './book.js'
import { Formula } from './edit.js'
import { html, icon, signal, useLayoutEffect, useRef } from './html.js'
import { quantity, split, words } from './show.js'
import { collect, figures, isWeekly, summary } from './value.js'
import { focus, weekTag } from './week.js'

// path holds the names asked so far, the one shown last; empty when nothing is asked.
export const path = signal([])

let asker = null // where the keyboard goes back to

// why asks about a line, or a list's column.
export function why(name) {
  asker = document.activeElement
  path.value = [name]
}

const deeper = (name) => { path.value = [...path.peek(), name] }
const back = (n) => { path.value = path.peek().slice(0, n) }

function leave() {
  path.value = []
  asker?.focus?.()
}

const rowOf = (name) => home(name)?.row?.value ?? null
const label = (name) => rowOf(name)?.label || words(name.replace('.', ', '))

// figure gives what a name is worth now: of a weekly value, its focus week.
function figure(name) {
  const value = valueOf(name).value
  return { value, text: summary(value, focus.value) || 'a list' }
}

// users gives the lines whose formulas read a name, in the order of the book.
function users(name) {
  const out = []
  for (const page of book.value?.pages ?? []) {
    for (const block of page.blocks) {
      for (const row of block.rows) if (row.value.reads?.includes(name)) out.push(row.value.name)
    }
  }
  return out
}

// columns gives what a list's name alone stands for: its columns.
function columns(name) {
  const list = book.value?.pages.flatMap((p) => p.blocks).find((b) => b.kind === 'list' && b.name === name)
  const head = list?.rows.find((r) => r.value.kind === 'header')?.value.cells ?? []
  return head.slice(1).map((cell) => name + '.' + cell.split(' ')[0]).filter((full) => valueOf(full).value)
}

// seasonOf says what the weeks of a value come to.
function seasonOf(value) {
  const text = collect(value).season()
  return text && `season ${text}`
}

function Part({ name }) {
  const { value, text } = figure(name)
  const row = rowOf(name)
  const { number, unit } = split(text)
  const weekly = isWeekly(value)
  const note = row?.input ? [quantity(row.written), row.source].filter(Boolean).join(' · ') : weekly ? [weekTag(focus.value), seasonOf(value)].filter(Boolean).join('; ') : ''
  return html`<li class=${row?.input ? 'given' : ''}><button onClick=${() => deeper(name)}><span class="who">${label(name)}${note && html`<small>${note}</small>`}</span><b>${number}${unit && html`<small>${unit}</small>`}</b>${icon('chev')}</button></li>`
}

function Given({ row, value }) {
  const members = figures(value).filter((f) => f.label)
  return html`<h3>Typed in</h3><p class="given">${row?.written ? html`<code>${quantity(row.written)}</code>` : 'in the list'}</p>
    ${row?.source && html`<h3>Says who</h3><p>${row.source}</p>`}
    ${!isWeekly(value) && members.length > 1 && html`<dl>${members.map((f) => html`<div><dt>${f.label}</dt><dd>${f.text}${f.band && html` <small>${f.band}</small>`}</dd></div>`)}</dl>`}`
}

export function Trace() {
  const panel = useRef(null)
  const name = path.value.at(-1)
  useLayoutEffect(() => { if (name) panel.current?.focus() }, [name])
  if (!name) return null
  const row = rowOf(name)
  const { value, text } = figure(name)
  const reads = row?.reads ?? (value ? [] : columns(name))
  const used = users(name)
  const { number, unit } = split(text)
  const band = value && !isWeekly(value) ? figures(value).map((f) => f.band || f.odds).find(Boolean) : ''
  const key = (e) => { if (e.key === 'Escape') { e.stopPropagation(); leave() } }
  return html`<aside class="trace" aria-label="Why this number" tabindex="-1" ref=${panel} onKeyDown=${key}>
    <header><span>Why this number</span><button onClick=${leave}><span class="vh">Close</span>${icon('close')}</button></header>
    ${path.value.length > 1 && html`<nav class="way" aria-label="The way here">${path.value.slice(0, -1).map((n, i) => html`<button onClick=${() => back(i + 1)}>${label(n)}</button><span aria-hidden="true">›</span>`)}</nav>`}
    <h2>${label(name)}</h2>
    <p class="num">${number}${unit && html`<small>${unit}</small>`}${band && html`<small>${band}</small>`}</p>
    <p class="when">${isWeekly(value) ? `in week ${weekTag(focus.value)}, ${seasonOf(value)}` : ''}</p>
    ${row && !row.input && row.written && html`<${Formula} text=${row.written} />`}
    ${row && !row.input && row.source && html`<p>${row.source}</p>`}
    ${row?.input || (!row && value) ? html`<${Given} row=${row} value=${value} />` : html`<h3>Made of</h3><ul class="made">${reads.map((n) => html`<${Part} key=${n} name=${n} />`)}</ul>`}
    ${used.length > 0 && html`<h3>Used by</h3><ul class="used">${used.map((n) => html`<li key=${n}><button onClick=${() => deeper(n)}>${label(n)}</button></li>`)}</ul>`}
  </aside>`
}
