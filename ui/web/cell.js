// One entry of a table, changed in place by what it is: a choice among members, a
// day, yes or no, a number with its range, a schedule over the weeks, or words.
import { book, labelOf } from './book.js'
import { target, useEdit, usePending } from './edit.js'
import { Editor } from './editor.js'
import { html, useLayoutEffect, useRef } from './html.js'
import { dateText, quantity } from './show.js'

const isDay = (text) => /^\d{4}-\d\d-\d\d$/.test(text)

// members gives the choices of a column that holds members of a list.
const members = (c) => book.value.axes[c.refers || c.name] && book.value.labels?.[c.refers || c.name] ? book.value.axes[c.refers || c.name] : null

// kindOf says how a cell is changed.
export function kindOf(c, written) {
  if (members(c)) return 'choice'
  if (written === 'yes' || written === 'no') return 'yes_no'
  if (isDay(written)) return 'day'
  if (c.over) return 'schedule'
  return /^-?[\d.]/.test(written) || c.unit ? 'number' : 'words'
}

export const memberText = (c, written) => (written.startsWith('"') ? written.slice(1, -1) : written === labelOf(c.refers || c.name, written) ? (/^[a-z][a-z0-9_]*$/.test(written) ? written.replace(/_/g, ' ') : written) : labelOf(c.refers || c.name, written))

// Cell is one entry of a list.
export function Cell({ list, row, column: c, plain, wrong }) {
  const make = (text) => ({ kind: 'set_cell', name: list, member: row.name, column: c.name, text, ...(pending === undefined ? { was: row.text } : {}) })
  const pending = usePending(target({ kind: 'set_cell', name: list, member: row.name, column: c.name }))?.text
  const written = pending ?? row.cells[c.at] ?? ''
  return html`<${InPlace} make=${make} written=${written} pending=${pending !== undefined} wrong=${wrong} label=${`${c.title} of ${row.name}`} plain=${plain} column=${c}
    shown=${c.refers || !/\d/.test(written) ? memberText(c, written) : isDay(written) ? dateText(written) : /;/.test(written) ? html`<${Steps} text=${written} />` : html`<${Ranged} text=${written} />`} />`
}

// Ranged sets a range smaller than its middle.
function Ranged({ text }) {
  const [, middle, range] = /^(.*?)(?:\s*(\(.*\)))?$/.exec(quantity(text))
  return html`${middle}${range && html` <small>${range}</small>`}`
}

// Steps shows a schedule, each value with the week from which it holds.
const Steps = ({ text }) => text.split(';').map((step, i) => {
  const [, value, week] = /^\s*(.*?)\s*(?:from\s+\d{4}-(W\d\d))?\s*$/.exec(step)
  return html`<span class="step-of">${i > 0 && html`<small>from ${week} </small>`}<${Ranged} text=${value} /></span>`
})

// InPlace shows what is written and opens to change it.
export function InPlace({ make, written, shown, pending, label, plain, column: c, wrong }) {
  const edit = useEdit(make)
  if (edit.open.value) {
    const kind = c && !edit.open.value.fault ? kindOf(c, edit.open.value.text) : 'words'
    if (kind === 'choice') return html`<${Chosen} edit=${edit} label=${label} choices=${members(c).map((m) => [m, labelOf(c.refers || c.name, m)])} />`
    if (kind === 'yes_no') return html`<${Chosen} edit=${edit} label=${label} choices=${[['yes', 'yes'], ['no', 'no']]} />`
    if (kind === 'day') return html`<${Day} edit=${edit} label=${label} />`
    return html`<${Editor} edit=${edit} label=${label} literal=${kind === 'number'} schedule=${kind === 'schedule'} unit=${c?.unit} hint=${c?.unit ? 'in ' + c.unit : ''} />`
  }
  return html`<button ref=${edit.opener} class=${(plain ? 'plain-cell' : 'cell') + (pending ? ' is-pending' : '') + (wrong ? ' is-wrong' : '')} data-state=${pending ? 'pending' : undefined} onClick=${() => edit.start(written)}><span class="vh">Change ${label}: </span>${shown || html`<span class="blank">blank</span>`}</button>`
}

// Chosen is a choice; taking one keeps it.
function Chosen({ edit, label, choices }) {
  const field = useRef(null)
  useLayoutEffect(() => field.current.focus(), [])
  const { text } = edit.open.value
  return html`<select class="cell-in" ref=${field} aria-label=${label} onKeyDown=${(e) => { e.stopPropagation(); if (e.key === 'Escape') edit.leave() }} onChange=${(e) => edit.keep(e.target.value)} onBlur=${edit.leave}>
    ${!choices.some(([m]) => m === text) && html`<option value=${text} selected>${text || 'blank'}</option>`}
    ${choices.map(([m, says]) => html`<option value=${m} selected=${m === text}>${says}</option>`)}</select>`
}

// Day is a day of the calendar, kept by Enter or when one goes on.
function Day({ edit, label }) {
  const field = useRef(null)
  useLayoutEffect(() => field.current.focus(), [])
  const key = (e) => {
    e.stopPropagation()
    if (e.key === 'Enter') { e.preventDefault(); edit.keep(field.current.value) }
    if (e.key === 'Escape') { e.preventDefault(); edit.leave() }
  }
  return html`<input class="cell-in" type="date" ref=${field} defaultValue=${edit.open.value.text} aria-label=${label} onKeyDown=${key} onBlur=${() => edit.open.peek() && edit.keep(field.current.value)} />`
}
