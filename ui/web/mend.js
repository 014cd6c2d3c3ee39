// What is wrong with a row, at its place, and the ways out: the nearest name, what
// stood there last that worked, or to put it right by hand. Beside it, what waits.
import { book } from './book.js'
import { Wrong, sentence } from './edit.js'
import { html, icon } from './html.js'
import { fullName } from './name.js'

const MOST = 4 // of what waits, by name; the rest is a count

// waiting gives the lines that hang on one, in the order of the book.
function waiting(name) {
  const rows = (book.value?.pages ?? []).flatMap((p) => p.blocks).flatMap((b) => b.rows).map((r) => r.value)
  const hang = new Set([name])
  let size
  do {
    size = hang.size
    for (const row of rows) if (row.reads?.some((n) => hang.has(n))) hang.add(row.name)
  } while (hang.size > size)
  hang.delete(name)
  return rows.filter((row) => hang.has(row.name))
}

const clock = (at) => new Date(at).toLocaleTimeString('en-GB', { hour: '2-digit', minute: '2-digit' })

export function Put({ name, text, fault, onUse, onEdit, onBack, since }) {
  const nearest = /did you mean ([\w.]+)\?/i.exec(fault.hint ?? '')?.[1]
  const behind = name ? waiting(name) : []
  return html`<div class="wrongbox"><div>
      <button class="mend-formula" onClick=${onEdit}><span class="vh">Put it right: </span><${Wrong} text=${text} fault=${fault} /></button>
      <p class="plain">${icon('bad')}<b>${sentence(fault.message)}</b> ${fault.hint ? sentence(fault.hint) : ''}${since ? ` Until it is put right the book keeps the numbers of ${clock(since)} and marks them stale.` : ''}</p>
      <div class="acts">${nearest && html`<button class="act" onClick=${() => onUse(text.slice(0, fault.from) + nearest + text.slice(fault.to))}>Use ${nearest}</button>`}
        ${onBack && html`<button class=${'act' + (nearest ? ' second' : '')} onClick=${onBack}>Go back to what worked</button>`}
        <button class=${'act' + (nearest || onBack ? ' second' : '')} onClick=${onEdit}>Put it right</button></div></div>
    ${behind.length > 0 && html`<aside class="behind" aria-label=${`What waits for ${name}`}><p class="head-small">Waiting for this line</p>
      <ul>${behind.slice(0, MOST).map((row) => html`<li key=${row.name}><span>${fullName(row)}</span><small>stale</small></li>`)}
        ${behind.length > MOST && html`<li><span>and ${behind.length - MOST} more</span><small>stale</small></li>`}</ul></aside>`}</div>`
}
