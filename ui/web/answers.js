// The three answers, first on every page: question, the word that the draws earned,
// the figure with its band, what follows, and the caution that belongs to it.
import { answers, bands } from './book.js'
import { dotsOf20 } from './draw.js'
import { sentence } from './edit.js'
import { html, useLayoutEffect, useRef } from './html.js'
import { pretty, split } from './show.js'

export function Answers() {
  const section = useRef(null)
  const drawing = bands.value === 'drawing'
  // Between an edit and its draws the answers say less: they keep their height, so
  // that the page below stays where it is.
  useLayoutEffect(() => {
    const { style } = section.current
    if (!drawing) style.minHeight = ''
    const height = section.current.offsetHeight
    return () => { style.minHeight = drawing ? style.minHeight : `${height}px` }
  }, [drawing])
  return html`<section class="answers" id="answers" ref=${section} aria-label="The three answers">${answers.value.map((a) => html`<${Answer} key=${a.key} answer=${a} />`)}</section>`
}

// Band is what eight seasons in ten stay within, or a strip where it is being drawn.
const Band = ({ row }) => (row.band ? html`<small>${pretty(row.band)}</small>` : row.waits && bands.value === 'drawing' ? html`<small><i class="drawing"></i></small>` : null)

// short cuts a label at its first stop: "Floor: below it, fruit are ..." is Floor.
const short = (label) => label.split(/[:;]/)[0]

const Figure = ({ text }) => { const { number, unit } = split(text); return html`${number}${unit && html`<small>${unit}</small>`}` }

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
    ${lead && html`<div class="figure"><b class="big"><${Figure} text=${lead.text} /></b><span class="what">${lead.band ? html`${pretty(lead.band)}<br /><small>8 seasons in 10</small>` : drawing ? html`<i class="drawing"></i>` : ''}</span></div>`}
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
    ${tables.map((t) => html`<div class="of-members"><p class="what">${short(t[0].label)}</p><dl class="prices">${t[0].rows.map((r, i) => html`<div key=${r.label}><dt>${r.label}</dt>
      <dd><b><${Figure} text=${r.text} /></b><${Band} row=${{ ...r, band: r.band?.replace(/\/\w+/g, '') }} />${t.slice(1).map((e) => html`<small>${short(e.label).toLowerCase()} ${pretty(e.rows[i].text)}</small>`)}</dd></div>`)}</dl></div>`)}
    ${singles.length > 0 && html`<dl class="also">${singles.map((e) => html`<div key=${e.label}><dt>${short(e.label)}</dt><dd><b>${pretty(e.rows[0].text)}</b> <${Band} row=${e.rows[0]} /></dd></div>`)}</dl>`}`
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
