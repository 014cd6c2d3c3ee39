// The three answers, first on every page and small enough to leave room for it:
// question, the word that the draws earned, the figure with its band, what follows,
// and the caution that belongs to it. What else an answer is made of is one step away.
import { answers, bands, book } from './book.js'
import { dotsOf20, spread } from './draw.js'
import { sentence } from './edit.js'
import { html, icon, signal, useLayoutEffect, useRef } from './html.js'
import { Offers, choice } from './offers.js'
import { parted } from './name.js'
import { Purse, purseOf } from './purse.js'
import { band, pretty, show, showOwn, split } from './show.js'
import { why } from './trace.js'
import { habit } from './units.js'

// One answer at most shows all that it is made of.
export const opened = signal('')

export function Answers() {
  const section = useRef(null)
  const drawing = bands.value === 'drawing'
  // Between an edit and its draws the answers say less: they keep their height, so
  // that the page below stays where it is. It is measured when the draws have come:
  // asked for after an edit, it would have the page laid out twice before it is seen.
  useLayoutEffect(() => {
    if (drawing) return
    const { style } = section.current
    style.minHeight = ''
    const height = section.current.offsetHeight
    return () => { style.minHeight = `${height}px` }
  }, [drawing])
  return html`<section class="answers" id="answers" ref=${section} aria-label="The three answers">${answers.value.length
    ? answers.value.map((a) => html`<${Answer} key=${a.key} answer=${a} />`)
    : book.value ? html`<p class="asks-nothing">This book asks none of the three questions yet. A block <code>answers</code> names the lines that they are read from: <code>pays</code>, <code>charge</code>, <code>carries</code>.</p>`
    : [0, 1, 2].map((k) => html`<article class="answer coming" key=${k} aria-hidden="true"><i></i><i></i><i></i></article>`)}</section>`
}

// asked says whether an entry is of prices at which something is sold, one for each
// offer: they stay in the unit of sale.
const asked = (entry) => entry.rows.length > 1 && /^[A-Z]{3}\//.test(entry.unit ?? '')

// textOf writes a figure of an entry as this viewer reads it.
export const textOf = (entry, row) => (typeof row.x !== 'number' ? pretty(row.text) : asked(entry) ? showOwn(row.x, entry.unit) : show(row.x, entry.unit))

// bandOf writes what eight seasons in ten stay within, without the unit, which
// stands with the figure.
export const bandOf = (entry, row) => (row.range && !asked(entry) ? band(row.range[0], row.range[1], entry.unit) : row.band ? row.band.split(' to ').map((text) => split(text).number).join(' to ') : '')

// short cuts a label to its first words: "Floor: below it, fruit are ..." is Floor.
export const short = (entry) => parted(entry.label).head

export const Figure = ({ text }) => { const { number, unit } = split(text); return html`${number}${unit && html`<small>${unit}</small>`}` }

// Why makes a figure of an answer open the panel that says why.
export const Why = ({ entry, children }) => (entry.name ? html`<button class="why" onClick=${() => why(entry.name)}><span class="vh">Why ${short(entry)} is </span>${children}</button>` : children)

export const Band = ({ entry, row }) => {
  const text = bandOf(entry, row)
  return text ? html`<small>${text}</small>` : row.waits && bands.value === 'drawing' ? html`<small><i class="drawing"></i></small>` : null
}

// lastSentence keeps of a consequence what the figure and its band do not say
// already. All of it stands with the rest of the answer.
const lastSentence = (text) => /[^.]*(?:\.\d[^.]*)*\.\s*$/.exec(text)?.[0].trim() ?? text

const saysOf = (a) => pretty((!a.entries.some(asked) && a.says?.[habit.value]) || a.consequence || '')

function Answer({ answer: a }) {
  const drawing = bands.value === 'drawing'
  const entries = a.entries.filter((e) => e.rows.length)
  const old = a.stale || a.fault
  const offers = entries.some((e) => e.rows.length > 1)
  const open = opened.value === a.key
  return html`<article class=${'answer' + (old ? ' old' : '') + (offers ? ' many' : '')} data-answer=${a.key} data-value=${entries[0] && textOf(entries[0], entries[0].rows[0])} data-state=${old ? 'stale' : undefined}>
    ${offers ? html`<${Offers} answer=${a} entries=${entries} />` : html`<${Single} answer=${a} entries=${entries} drawing=${drawing} />`}
    ${a.fault
      ? html`<p class="plain">${icon('bad')}<b>${entries.length ? 'Stale: ' : 'It cannot be said: '}</b>${a.fault.name && !a.fault.waits && html`<code>${a.fault.name}</code> `}${sentence(a.fault.message)}</p>`
      : html`<p class="foot">${lastSentence(saysOf(a))}</p>`}
    ${a.caution && html`<p class="care"><b>Take care.</b> ${a.caution}</p>`}
    ${entries.length > 1 && html`<button class="more" aria-expanded=${open ? 'true' : 'false'} aria-controls=${'all-of-' + a.key} onClick=${() => { opened.value = open ? '' : a.key }}>${open ? 'Less' : `All ${entries.length} figures`}<span class="vh"> of: ${a.question}</span>${icon('chev')}</button>`}
    ${open && html`<${All} answer=${a} entries=${entries} />`}</article>`
}

// Single is an answer that leads with one figure.
function Single({ answer: a, entries, drawing }) {
  const [first] = entries
  const row = first?.rows[0]
  const purse = purseOf(entries.slice(1))
  const limit = typeof first?.limit === 'number' ? { at: first.limit, text: show(first.limit, first.unit).replace(/\.00$/, '') } : null
  return html`<h2>${a.question}${first && html` <small>${short(first)}</small>`}</h2>
    <div class="verdict">${a.verdict
      ? html`<span>${a.verdict}, ${a.of20} in 20</span><span class="vh"> seasons</span>${dotsOf20(a.of20)}`
      : row && drawing ? html`<span class="faint">drawing…</span><i class="drawing"></i>` : ''}</div>
    ${row && html`<div class="figure"><${Why} entry=${first}><b class="big"><${Figure} text=${textOf(first, row)} /></b><//>
      <span class="what">${row.range
        ? html`${!purse && spread(row.range, row.x, limit)}<span>${bandOf(first, row)}<span class="vh"> in 8 seasons of 10</span></span>`
        : drawing && row.waits ? html`<i class="drawing"></i>` : ''}</span>
      ${purse && html`<${Purse} name=${purse.name} low=${purse.low} />`}</div>`}`
}

// All is everything the answer is made of, over what stands below it.
function All({ answer: a, entries }) {
  const panel = useRef(null)
  useLayoutEffect(() => { // at once: the next key may come before the next frame
    const leave = (e) => { if (!panel.current?.parentElement.contains(e.target)) opened.value = '' }
    const key = (e) => { if (e.key === 'Escape') { panel.current?.parentElement.querySelector('.more').focus(); opened.value = '' } }
    document.addEventListener('pointerdown', leave)
    document.addEventListener('keydown', key)
    return () => { document.removeEventListener('pointerdown', leave); document.removeEventListener('keydown', key) }
  }, [])
  const singles = entries.filter((e) => e.rows.length === 1)
  return html`<div class="all" id=${'all-of-' + a.key} ref=${panel}>
    ${saysOf(a) && html`<p>${saysOf(a)}</p>`}
    ${singles.length > 0 && html`<dl class="also">${singles.map((e) => html`<div key=${e.label}><dt>${e.label}</dt><dd><${Why} entry=${e}><b>${textOf(e, e.rows[0])}</b><//> <${Band} entry=${e} row=${e.rows[0]} /></dd></div>`)}</dl>`}
    ${tables(entries.filter((e) => e.rows.length > 1)).map((t) => html`<${Table} entries=${t} key=${t[0].label} />`)}</div>`
}

// tables puts entries over the same members together.
function tables(entries) {
  const out = []
  for (const e of entries) {
    const at = out.find((t) => t[0].rows.length === e.rows.length && t[0].rows.every((r, i) => r.label === e.rows[i].label))
    if (at) at.push(e)
    else out.push([e])
  }
  return out
}

// Table shows members below each other, and the band of the first entry.
function Table({ entries }) {
  const unit = (e) => split(textOf(e, e.rows[0])).unit.trim()
  return html`<table class="compact"><thead><tr><th scope="col"><span class="vh">Member</span></th>${entries.map((e, k) => html`<th scope="col" key=${e.label}>${short(e)} ${unit(e)}</th>${k === 0 && html`<th scope="col">8 in 10</th>`}`)}</tr></thead>
    <tbody>${entries[0].rows.map((r, i) => html`<tr key=${r.label}><th scope="row">${r.label}</th>${entries.map((e, k) => html`<td key=${e.label}>${k === 0 ? html`<b>${split(textOf(e, e.rows[i])).number}</b>` : split(textOf(e, e.rows[i])).number}</td>${k === 0 && html`<td><${Band} entry=${e} row=${r} /></td>`}`)}</tr>`)}</tbody></table>`
}

const verbs = { pays: 'Pays', charge: 'Charge', carries: 'Carries' }

// Slim is what of the answers stays in sight when the page has scrolled. It repeats
// what stands above, so it is kept from readers of the screen.
export function Slim() {
  return html`<div class="slim" aria-hidden="true">${answers.value.map((a) => {
    const e = a.entries[1]?.rows.length > 1 ? a.entries[1] : a.entries[0]
    const first = e?.rows.find((r) => !choice.value || Object.values(r.of ?? {}).includes(choice.value)) ?? e?.rows[0]
    return html`<span key=${a.key}>${a.fault ? html`<b class="bad">Stale. </b>` : ''}${verbs[a.key] ?? a.question} <b>${first ? textOf(e, first) : 'not known'}</b>${first?.label ? ' ' + first.label : ''}${a.verdict ? `, ${a.of20} in 20` : ''}</span>`
  })}</div>`
}
