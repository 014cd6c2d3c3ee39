// Why a number is what it is: its formula, what the formula is made of, each of
// which can be asked in turn, down to inputs with their ranges and sources; which
// guesses spread it; what changed it last; and what uses it.
import { bands, book, home, labelOf, number as change, scenario, valueOf } from './book.js'
import { range } from './draw.js'
import { html, icon, signal, useEffect, useLayoutEffect, useRef, useSignal } from './html.js'
import { parted } from './name.js'
import { pretty, quantity, split, typed, unitText, words } from './show.js'
import { collect, figures, isWeekly, part as partOf, summary } from './value.js'
import { focus, weekTag } from './week.js'
import { askWhy, mine } from './wire.js'

// path holds what was asked so far, as { name, part }, the one shown last; empty when
// nothing is asked. part is the place of a member among a line's others.
export const path = signal([])

let asker = null // where the keyboard goes back to

// why asks about a line, or a list's column; of one of its members where part says so.
export function why(name, part) {
  asker = document.activeElement
  path.value = [{ name, part }]
}

const deeper = (name, part) => { path.value = [...path.peek(), { name, part }] }
const back = (n) => { path.value = path.peek().slice(0, n) }

function leave() {
  path.value = []
  asker?.focus?.()
}

const rowOf = (name) => home(name)?.row?.value ?? null

// label gives a name as people call it: its line's label, or the column of its list.
function label(name) {
  const row = rowOf(name)
  if (row) return row.label || words(name)
  const [list, column] = name.split('.')
  return column ? `${words(column)}, by ${words(list).toLowerCase()}` : words(name)
}

const outer = (value) => (value?.axes ?? []).filter((a) => a !== 'week')

// narrow gives of a value one member, where it has such members.
function narrow(value, part) {
  if (!value || part === undefined || outer(value).length === 0) return value
  if (isWeekly(value)) { const p = collect(value).parts[part]; return p ? partOf(value, p) : value }
  if (part >= value.cells.length) return value
  const one = (list) => list && [list[part]]
  return { ...value, axes: [], cells: one(value.cells), low: one(value.low), high: one(value.high), odds: one(value.odds) }
}

// memberOf names the member that a part is.
function memberOf(value, part) {
  if (!value || part === undefined || outer(value).length === 0) return ''
  if (isWeekly(value)) return collect(value).parts[part]?.label ?? ''
  return figures({ ...value, cells: value.cells.map((_, i) => i), low: undefined, high: undefined, odds: undefined, kind: 'number' })[part]?.label ?? ''
}

// figure gives what a name is worth: of a weekly value its focus week, or the season
// where it stands behind a figure of the season.
function figure(value, season) {
  if (!value) return ''
  if (season && isWeekly(value)) return collect(value).season() || summary(value, focus.value)
  return summary(value, focus.value)
}

// users gives the lines whose formulas read a name, in the order of the book.
function users(name) {
  return (book.value?.pages ?? []).flatMap((p) => p.blocks).flatMap((b) => b.rows).filter((r) => r.value.reads?.includes(name)).map((r) => r.value.name)
}

// columns gives what a list's name alone stands for: its columns.
function columns(name) {
  const list = book.value?.pages.flatMap((p) => p.blocks).find((b) => b.kind === 'list' && b.name === name)
  const head = list?.rows.find((r) => r.value.kind === 'header')?.value.cells ?? []
  return head.slice(1).map((cell) => name + '.' + cell.split(' ')[0]).filter((full) => valueOf(full).value)
}

const signs = { '+': '+', '-': '−', '*': '×', '/': '÷' }
const signNames = { '+': 'added', '-': 'taken off', '*': 'times that', '/': 'divided by that' }

// Part is one thing that a formula is made of: how it goes in, and what it is worth.
function Part({ name, sign, like, season }) {
  const all = valueOf(name).value
  const same = like.part !== undefined && outer(all).join() === like.axes.join()
  const value = narrow(all, same ? like.part : undefined)
  const row = rowOf(name)
  const { number, unit } = split(figure(value, season) || 'a list')
  const { head, tail } = parted(label(name))
  const note = row?.input ? [quantity(row.written), row.source].filter(Boolean).join(' · ') : isWeekly(value) ? (season ? 'whole season' : [weekTag(focus.value), tail].filter(Boolean).join('; ')) : tail
  return html`<li class=${row?.input || !row ? 'given' : ''}><i class="sign" aria-hidden="true">${signs[sign] ?? ''}</i><button onClick=${() => deeper(name, same ? like.part : undefined)}><span class="who">${head}${sign && html`<span class="vh">, ${signNames[sign]}</span>`}${note && html`<small>${note}</small>`}</span><b>${number}${unit && html`<small>${unit.trim()}</small>`}</b>${icon('chev')}</button></li>`
}

// kindOf says what a column stands in: a list or records.
const kindOf = (name) => ((book.peek()?.pages ?? []).flatMap((p) => p.blocks).some((b) => b.kind === 'records' && b.name === name.split('.')[0]) ? 'records' : 'list')

// Given is what people typed in, and who says so.
function Given({ row, value, name }) {
  const members = value ? figures(value).filter((f) => f.label) : []
  const it = row?.written && typed(row.written)
  return html`<h3>Typed in</h3><p class="given">${row?.written ? html`<code>${quantity(row.written)}</code>` : `in the ${kindOf(name)} ${words(name.split('.')[0])}`}</p>
    ${it?.low && html`<div class="rng">${range(+it.low, +it.middle, +it.high)}<span>in eight seasons of ten between ${it.low} and ${it.high}${it.unit !== '1' ? ` ${unitText(it.unit)}` : ''}</span></div>`}
    <h3>Says who</h3><p>${row?.source ? row.source[0].toUpperCase() + row.source.slice(1) : row ? 'Nobody is named.' : kindOf(name) === 'records' ? 'Who wrote it down.' : 'See the notes under the list.'}</p>
    ${value && !isWeekly(value) && members.length > 1 && html`<dl>${members.map((f) => html`<div><dt>${f.label}</dt><dd>${f.text}${f.band && html` <small>${f.band}</small>`}</dd></div>`)}</dl>`}`
}

// Linked is a formula in which each name leads on.
function Linked({ row, name }) {
  const reads = new Set(row.reads ?? [])
  const parts = row.written.split(/("[^"]*"|[a-z_][\w.]*)/)
  return html`<code class="formula">${name} = ${parts.map((t, i) => (reads.has(t) ? html`<button key=${i} class="ref" onClick=${() => deeper(t)}>${t}</button>` : i % 2 ? t : t.replace(/\*/g, '×').replace(/-/g, '−')))}</code>`
}

const clock = (at) => new Date(at).toLocaleTimeString('en-GB', { hour: '2-digit', minute: '2-digit' })

// memberLabel puts the members that name a cell of an input into words.
const memberLabel = (cell) => cell.split(', ').map((m) => {
  const labels = book.value?.labels ?? {}
  return /^\d{4}-W\d\d$/.test(m) ? `from W${m.slice(-2)}` : labelOf(Object.keys(labels).find((axis) => labels[axis][m]) ?? '', m)
}).join(', ')

// driverName is what a guess is called, with its member.
export const driverName = (d) => parted(label(d.name)).head + (d.cell ? `, ${memberLabel(d.cell)}` : '')

// Spread says which guesses a figure hangs on: the draws turn all at once, and each is
// given what it moves the figure while it goes through its range.
function Spread({ said, waits }) {
  if (!said?.drawn) return waits ? html`<h3>Why it is not one number</h3><p class="faint"><i class="drawing"></i> drawing…</p>` : null
  const list = said.drivers ?? []
  if (!list.length) return null
  const most = Math.max(...list.map((d) => Math.abs(d.ends[1] - d.ends[0])))
  return html`<h3>Why it is not one number</h3><ul class="drives">${list.map((d) => html`<li key=${d.name + d.cell}>
    <button onClick=${() => deeper(d.name)}><span>${driverName(d)}</span><b>±${split(d.moves).number.replace('−', '')}${html`<small>${split(d.moves).unit}</small>`}</b></button>
    <i class="bar" aria-hidden="true"><i style=${{ width: `${Math.round(Math.abs(d.ends[1] - d.ends[0]) / most * 1000) / 10}%` }}></i></i>
    ${d.chance ? html`<small>if it happens: ${split(d.says[1]).number}</small>` : d.low ? html`<small>${pretty(d.low)} to ${pretty(d.high)}: ${split(d.says[0]).number} to ${split(d.says[1]).number}</small>` : html`<small>a draw of its own for every week</small>`}</li>`)}</ul>
    <p class="note">Each goes through eight seasons of ten, the others as they fall.</p>`
}

function Changes({ list }) {
  if (!list?.length) return null
  return html`<h3>Last changed</h3><ul class="changes">${list.map((c) => html`<li key=${c.at}><span>${mine(c.by) ? 'You' : 'Someone else'} ${c.what}: <b>${split(c.from).number} → ${split(c.to).number}</b></span><small>today ${clock(c.at)}</small></li>`)}</ul>`
}

export function Trace() {
  const panel = useRef(null)
  const said = useSignal(null)
  const at = path.value.at(-1)
  const name = at?.name
  const whole = name ? valueOf(name).value : null
  const weekly = isWeekly(whole)
  useLayoutEffect(() => { if (name) { panel.current?.focus(); panel.current.scrollTop = 0 } }, [name, at?.part])
  useEffect(() => {
    if (!name || !whole || scenario.value) return // of a scenario the server says only the values
    let current = true
    askWhy(name, weekly ? focus.value : undefined, outer(whole).length ? at.part : undefined).then((m) => { if (current) said.value = { for: name, ...m.why } })
    return () => { current = false }
  }, [name, at?.part, weekly && focus.value, change.value, bands.value, scenario.value])
  if (!name) return null
  const row = rowOf(name)
  const value = narrow(whole, at.part)
  const member = memberOf(whole, at.part)
  const here = said.value?.for === name && !scenario.value ? said.value : null
  const reads = row?.reads ?? (whole ? [] : columns(name))
  const used = users(name)
  const { number, unit } = split(figure(value) || 'a list')
  const band = value && (isWeekly(value) ? collect(value).band(focus.value) : figures(value).map((f) => f.band || f.odds).find(Boolean))
  const season = weekly && collect(value).season()
  const { head, tail } = parted(label(name))
  const page = home(name)?.page.title
  const key = (e) => { if (e.key === 'Escape') { e.stopPropagation(); leave() } }
  return html`<aside class="trace" aria-label="Why this number" tabindex="-1" ref=${panel} onKeyDown=${key}>
    <header><span>Why this number</span><button onClick=${leave}><span class="vh">Close</span>${icon('close')}</button></header>
    ${path.value.length > 1 && html`<nav class="way" aria-label="The way here">${path.value.slice(0, -1).map((n, i) => html`<button onClick=${() => back(i + 1)}>${parted(label(n.name)).head}</button><span aria-hidden="true">›</span>`)}</nav>`}
    <h2>${head}${member && html`<span class="of">, ${member}</span>`}</h2>
    ${tail && html`<p class="tail">${tail}</p>`}
    <p class="num">${number}${unit && html`<small>${unit.trim()}</small>`}${band && html`<small class="band">${band}</small>`}</p>
    <p class="when">${[weekly && `in week ${weekTag(focus.value)}`, season && `season ${season}`, value?.stale && 'stale'].filter(Boolean).join('; ')}</p>
    ${(here?.outside ?? []).map((text) => html`<p class="outside">${icon('bad')}<span><b>Outside what was measured.</b> ${text}</span></p>`)}
    ${row && !row.input && row.written && html`<${Linked} row=${row} name=${name} />`}
    ${row && !row.input && row.source && html`<p class="note">${row.source}</p>`}
    ${row?.input || (!row && whole) ? html`<${Given} row=${row} value=${whole} name=${name} />`
      : reads.length > 0 && html`<h3>Made of</h3><ul class="made">${reads.map((n, i) => html`<${Part} key=${n} name=${n} sign=${row?.signs?.[i]} like=${{ part: at.part, axes: outer(whole) }} season=${!weekly} />`)}</ul>`}
    <${Spread} said=${here} waits=${bands.value === 'drawing' && whole && !scenario.value} />
    <${Changes} list=${here?.changes} />
    ${used.length > 0 && html`<h3>Used by</h3><ul class="used">${used.map((n) => html`<li key=${n}><button onClick=${() => deeper(n)}>${parted(label(n)).head}</button></li>`)}</ul>`}
    ${page && html`<p class="stands">Stands on the page <a href=${'#/line/' + name}>${page}</a></p>`}
  </aside>`
}
