// The three answers, first on every page: question, the word that the draws earned,
// the figure with its band, what follows, and the caution that belongs to it.
import { answers, bands, home } from './book.js'
import { dotsOf20 } from './draw.js'
import { sentence } from './edit.js'
import { html, useLayoutEffect, useRef } from './html.js'
import { pretty, split } from './show.js'
import { why } from './trace.js'

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
  return html`<section class="answers" id="answers" ref=${section} aria-label="The three answers">${answers.value.map((a) => html`<${Answer} key=${a.key} answer=${a} />`)}</section>`
}

// bandOf writes a band without its unit, which stands with the figure.
const bandOf = (band) => band.split(' to ').map((text) => split(text).number).join(' to ')

// Band is what eight seasons in ten stay within, or a strip where it is being drawn.
const Band = ({ row }) => (row.band ? html`<small>${bandOf(row.band)}</small>` : row.waits && bands.value === 'drawing' ? html`<small><i class="drawing"></i></small>` : null)

// short cuts a label at its first stop: "Floor: below it, fruit are ..." is Floor.
const short = (label) => label.split(/[:;]/)[0]

const Figure = ({ text }) => { const { number, unit } = split(text); return html`${number}${unit && html`<small>${unit}</small>`}` }

// Why makes a figure of an answer open the panel that says why.
const Why = ({ entry, children }) => (entry.name ? html`<button class="why" onClick=${() => why(entry.name)}><span class="vh">Why ${entry.label} is </span>${children}</button>` : children)

function Answer({ answer: a }) {
  const drawing = bands.value === 'drawing'
  const entries = a.entries.filter((e) => e.rows.length)
  const single = entries.length > 0 && entries[0].rows.length === 1
  const lead = single ? entries[0].rows[0] : null
  const old = a.stale || a.fault
  return html`<article class=${'answer' + (old ? ' old' : '')} data-answer=${a.key} data-value=${entries[0]?.rows[0]?.text} data-state=${old ? 'stale' : undefined}>
    <h2>${a.question}${lead && html` <small>${short(entries[0].label)}</small>`}</h2>
    ${a.fault && html`<p class="plain"><svg class="i" aria-hidden="true"><use href="#i-bad" /></svg><b>${entries.length ? 'Stale: ' : 'It cannot be said: '}</b>${a.fault.name && !a.fault.waits && html`<code>${a.fault.name}</code> `}${sentence(a.fault.message)}</p>`}
    ${(a.verdict || lead) && html`<div class="verdict">${a.verdict
      ? html`<span>${a.verdict}, ${a.of20} in 20</span><span class="vh"> seasons</span>${dotsOf20(a.of20)}`
      : drawing ? html`<span class="faint">drawing…</span><i class="drawing"></i>` : ''}</div>`}
    ${lead && html`<div class="figure"><${Why} entry=${entries[0]}><b class="big"><${Figure} text=${lead.text} /></b><//><span class="what">${lead.band ? html`${bandOf(lead.band)}<br /><small>8 seasons in 10</small>` : drawing ? html`<i class="drawing"></i>` : ''}</span></div>`}
    <${Rest} entries=${single ? entries.slice(1) : entries} />
    ${a.consequence && html`<p class="foot">${pretty(a.consequence)}</p>`}
    ${a.caution && html`<p class="care"><b>Take care.</b> ${a.caution}</p>`}</article>`
}

// Rest shows the entries after the first figure: single ones as a list, those with
// a row for each member as a table in which entries over the same members meet.
function Rest({ entries }) {
  const singles = entries.filter((e) => e.rows.length === 1)
  const tables = []
  for (const e of entries.filter((x) => x.rows.length > 1)) {
    const at = tables.find((t) => t[0].rows.length === e.rows.length && t[0].rows.every((r, i) => r.label === e.rows[i].label))
    if (at) at.push(e)
    else tables.push([e])
  }
  return html`
    ${tables.map((t) => (t[0].rows.length > MOST_BESIDE ? html`<${Compact} entries=${t} />` : html`<${Beside} entries=${t} />`))}
    ${singles.length > 0 && html`<dl class="also">${singles.map((e) => html`<div key=${e.label}><dt>${short(e.label)}</dt><dd><${Why} entry=${e}><b>${pretty(e.rows[0].text)}</b><//> <${Band} row=${e.rows[0]} /></dd></div>`)}</dl>`}`
}

const MOST_BESIDE = 4 // members that stand side by side; more stand below each other

// Beside shows few members side by side, the first entry large.
function Beside({ entries: [first, ...others] }) {
  return html`<div class="of-members"><p class="what">${short(first.label)}</p><dl class="prices">${first.rows.map((r, i) => html`<div key=${r.label}><dt>${r.label}</dt>
    <dd><b><${Figure} text=${r.text} /></b><${Band} row=${r} />${others.map((e) => html`<small>${short(e.label).toLowerCase()} ${split(e.rows[i].text).number}</small>`)}</dd></div>`)}</dl></div>`
}

// Compact shows many members below each other.
function Compact({ entries }) {
  const unit = (e) => split(e.rows[0].text).unit.trim()
  return html`<table class="compact"><thead><tr><th scope="col"><span class="vh">Member</span></th>${entries.map((e, k) => html`<th scope="col" key=${e.label}>${short(e.label)} ${unit(e)}</th>${k === 0 && html`<th scope="col">8 in 10</th>`}`)}</tr></thead>
    <tbody>${entries[0].rows.map((r, i) => html`<tr key=${r.label}><th scope="row">${r.label}</th>${entries.map((e, k) => html`<td key=${e.label}>${k === 0 ? html`<b>${split(e.rows[i].text).number}</b>` : split(e.rows[i].text).number}</td>${k === 0 && html`<td><${Band} row=${r} /></td>`}`)}</tr>`)}</tbody></table>`
}

const verbs = { pays: 'Pays', charge: 'Charge', carries: 'Carries' }

// Slim is what of the answers stays in sight when the page has scrolled. It repeats
// what stands above, so it is kept from readers of the screen.
export function Slim() {
  return html`<div class="slim" aria-hidden="true">${answers.value.map((a) => {
    const e = a.key === 'charge' && a.entries[1]?.rows.length ? a.entries[1] : a.entries[0]
    const first = e?.rows[0]
    return html`<span key=${a.key}>${a.fault ? html`<b class="bad">Stale. </b>` : ''}${verbs[a.key] ?? a.question} <b>${first ? pretty(first.text) : 'not known'}</b>${first?.label ? ' ' + first.label : ''}${a.verdict ? `, ${a.of20} of 20` : ''}</span>`
  })}</div>`
}
