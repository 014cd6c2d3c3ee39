// A line of the book: an input or a computed value, one figure or one for each
// week. Weekly lines share the page's time field, so that the string of the focus
// week goes through all of them.
import { home, valueOf } from './book.js'
import { Care } from './care.js'
import { placeOfWritten, sentence, target, useEdit, usePending, withWritten } from './edit.js'
import { Editor } from './editor.js'
import { html, useSignal } from './html.js'
import { Put } from './mend.js'
import { fullName } from './name.js'
import { paper } from './paper.js'
import { Scalar } from './scalar.js'
import { isWeekly, summary } from './value.js'
import { focus, now, weekTag } from './week.js'
import { Opened, Weekly } from './weekly.js'
import { change } from './wire.js'

const AT_ONCE = 150 // rows of a block shown before one asks for more

// Lines shows a block of lines in the order of the book.
export function Lines({ block }) {
  const many = useSignal(AT_ONCE)
  const most = paper.value ? block.rows.length : many.value
  const rows = block.rows.slice(0, most)
  const weekly = rows.some((row) => isWeekly(valueOf(row.value.name ?? '').value))
  return html`<section class=${'lines' + (weekly ? ' weeks' : '')}>
    ${weekly && html`<div class="wash"></div><div class="string"></div><${Columns} />`}
    ${rows.map((row) => html`<${Row} key=${row.value.name || row.value.part} row=${row} />`)}
    ${block.rows.length > most && html`<button class="more-rows" onClick=${() => { many.value += AT_ONCE }}>Show ${Math.min(AT_ONCE, block.rows.length - many.value)} more of ${block.rows.length} lines</button>`}
  </section>`
}

export function Columns() {
  const i = focus.value
  return html`<div class="cols" aria-hidden="true"><div></div><div class="time"><span class="tag">${weekTag(i)}</span></div><div class="vals"><span data-text=${i === now.value ? 'this week' : weekTag(i)}></span><span data-text="season"></span></div></div>`
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
  const name = fullName(row)
  const One = weekly ? Weekly : Scalar
  return html`<div class=${(weekly ? 'line' : 'line scal') + (edit.open.value ? ' editing' : '') + (opened.value ? ' is-open' : '') + (state ? ' is-' + state : '')} id=${row.name ? 'line-' + row.name : undefined}
      data-line=${row.name} data-value=${summary(value, i)} data-state=${state}>
    <${One} row=${row} name=${name} value=${value} edit=${edit} opened=${opened} start=${start} state=${state} pending=${pending} />
    ${edit.open.value && html`<${Editor} edit=${edit} name=${row.name} names=${!row.input || pending} label=${(row.input ? 'Value of ' : 'Formula of ') + name} literal=${row.input && !pending} hint=${row.unit ? 'in ' + row.unit : ''} />`}
    ${!edit.open.value && fault && html`<${Mend} row=${row} fault=${fault} edit=${edit} start=${start} value=${value} />`}
    ${weekly && opened.value && html`<${Opened} row=${row} name=${name} value=${value} edit=${edit} start=${start} quiet=${edit.open.value || fault} />`}
    ${row.name && html`<${Care} name=${row.name} />`}
    ${row.fault?.waits && html`<p class="waits">Waits for <a href=${'#/line/' + row.fault.waits} onClick=${(e) => goTo(e, row.fault.waits)}>${home(row.fault.waits)?.row?.value.label || row.fault.waits}</a>.</p>`}
    ${!fault && !row.fault && value?.fault && html`<p class="waits">${sentence(value.fault.message)}</p>`}
  </div>`
}

// Mend shows what is wrong with a row, in the part that is edited if it is there.
function Mend({ row, fault, edit, start, value }) {
  const at = placeOfWritten(row)
  const inside = at >= 0 && fault.from >= at && fault.to <= at + row.written.length
  const text = inside ? row.written : row.text
  const keep = (written) => { edit.start(row.written); edit.keep(written) }
  const use = (better) => keep(inside ? better : better.slice(at, better.length - (row.text.length - at - row.written.length)))
  return html`<${Put} name=${row.name} text=${text} fault=${inside ? { ...fault, from: fault.from - at, to: fault.to - at } : fault} onUse=${use} onEdit=${start}
    onBack=${row.good && (() => change({ kind: 'set_line', name: row.name, was: row.text, text: row.good }))} since=${value?.since} />`
}

function goTo(e, name) {
  const there = document.getElementById('line-' + name)
  if (!there) { location.hash = '#/line/' + name; return }
  e.preventDefault()
  there.scrollIntoView({ block: 'center' })
  there.querySelector('button')?.focus()
}
