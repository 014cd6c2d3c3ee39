// Pins: values that people hold by hand against a formula, in one week. A pin is a
// solid diamond wherever its value stands, and is set and let go where the line is
// opened.
import { book } from './book.js'
import { target, useEdit, usePending } from './edit.js'
import { Editor } from './editor.js'
import { computed, html } from './html.js'
import { quantity, typed, typedText } from './show.js'
import { weekTag, weeks } from './week.js'
import { change } from './wire.js'

// read cuts a row of pins: "harvest @ long_tomato, 2027-W16 : 140 lb // half a crew".
function read(text) {
  const m = /^\s*([a-z]\w*(?:\.\w+)?)\s*(?:@\s*([^:]*?))?\s*:\s*(.*?)\s*(?:\/\/\s*(.*?))?\s*$/.exec(text)
  if (!m) return null
  const places = (m[2] ?? '').split(',').map((s) => s.trim()).filter(Boolean)
  const week = places.find((p) => /^\d{4}-W\d\d$/.test(p)) ?? ''
  return { name: m[1], members: places.filter((p) => p !== week), week, text: m[3], note: m[4] ?? '' }
}

// all holds the pins of the book by the line they hold.
const all = computed(() => {
  const out = new Map()
  for (const block of (book.value?.pages ?? []).flatMap((p) => p.blocks)) {
    if (block.kind !== 'pins') continue
    for (const row of block.rows) {
      const pin = row.value.kind !== 'comment' && !row.value.fault && read(row.value.text)
      if (pin) out.set(pin.name, [...(out.get(pin.name) ?? []), pin])
    }
  }
  return out
})

// amount writes a literal as a person reads it.
const amount = (text) => { const it = typed(text); return it && !it.low ? typedText(it.middle, it.unit) : quantity(text) }

const covers = (pin, week, members) => (!pin.week || pin.week === week) && pin.members.every((m) => members.includes(m))

// pinAt gives the pin of one cell of a line: of a week, and of members.
export const pinAt = (name, i, members = []) => (all.value.get(name) ?? []).find((pin) => pin.week && covers(pin, weeks.value[i]?.name, members)) ?? null

// pinned gives the weeks of the season in which a line is held by hand: for some
// members, or for any.
export const pinned = (name, members) => (all.value.get(name) ?? []).filter((pin) => pin.week && (!members || pin.members.every((m) => members.includes(m)))).map((pin) => weeks.value.findIndex((w) => w.name === pin.week)).filter((i) => i >= 0)

export const Diamond = () => html`<svg class="pin" viewBox="0 0 14 14" aria-hidden="true"><path d="M7 1l6 6l-6 6l-6 -6z" /></svg>`

// Pin is the tool of one cell: it holds a value by hand, or lets it go.
export function Pin({ name, title, i, members = [], unit }) {
  const held = pinAt(name, i, members)
  const address = `${name} @ ${[...members, weeks.value[i]?.name].join(', ')}`
  const make = (text) => ({ kind: 'pin', address, text: held?.note && !text.includes('//') ? `${text} // ${held.note}` : text })
  const edit = useEdit(make)
  const waits = usePending(target({ kind: 'pin', address }))
  const goes = usePending(target({ kind: 'unpin', address }))
  const whole = `${title}, ${weekTag(i)}`
  if (edit.open.value) return html`<${Editor} edit=${edit} label=${`${whole}, held by hand at`} hint=${`a value in ${unit || 'its unit'}, and // why`} />`
  if (waits) return html`<span class="by-hand"><${Diamond} /><b>${amount(String(waits.text).split('//')[0].trim())}</b> <small class="unsaved">not saved yet</small></span>`
  if (!held) return html`<button class="tool-link" ref=${edit.opener} onClick=${() => edit.start('')}>Hold ${weekTag(i)} by hand<span class="vh">: ${title}</span></button>`
  return html`<span class="by-hand"><${Diamond} /><b>${amount(held.text)}</b> by hand${held.note && html`<small>${held.note}</small>`}
    <button class="tool-link" ref=${edit.opener} onClick=${() => edit.start(held.text)}>Change<span class="vh"> what is held by hand: ${whole}</span></button>
    <button class="tool-link" disabled=${!!goes} onClick=${() => change({ kind: 'unpin', address })}>Let it go<span class="vh">: ${whole}</span></button></span>`
}
