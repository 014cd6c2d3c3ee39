// The answer about prices: what there is of one crop, and what to ask for it at each
// place that takes it. Which crops there are, and what is offered where, the book
// says: its lists, and what their members refer to.
import { book, labelOf, valueOf } from './book.js'
import { Figure, Why, bandOf, short, textOf } from './answers.js'
import { html, icon, signal } from './html.js'
import { show, words } from './show.js'

export const choice = signal('') // the member that was chosen, of the list that all rows refer to

// common gives the list that the rows of all entries are of or refer to, with several
// members; '' when there is none.
function common(entries) {
  const lists = entries.map((e) => Object.keys(e.rows[0].of ?? {}).filter((list) => e.rows.every((r) => r.of?.[list])))
  const shared = (lists[0] ?? []).filter((list) => lists.every((l) => l.includes(list)))
  return shared.find((list) => members(entries, list).length > 1) ?? ''
}

const members = (entries, list) => [...new Set(entries.flatMap((e) => e.rows.map((r) => r.of[list])))]

export function Offers({ answer: a, entries }) {
  const many = entries.filter((e) => e.rows.length > 1)
  const list = common(many)
  const all = list ? members(many, list) : []
  const chosen = all.includes(choice.value) ? choice.value : all[0] ?? ''
  const mine = (e) => e.rows.filter((r) => !list || r.of?.[list] === chosen)
  const [amount, price] = entries[0].rows.length > 1 && many.length > 1 ? [many[0], many[1]] : entries[0].rows.length > 1 ? [null, many[0]] : [entries[0], many[0]]
  const floor = many.find((e) => e !== price && e.unit === price.unit && String(e.axes) === String(price.axes))
  // What is over the chosen list itself, in the same unit: the seconds of a crop.
  const beside = entries.filter((e) => e !== amount && e !== price && e !== floor && e.unit === price.unit && e.axes?.length === 1 && e.axes[0] === list)
  return html`<h2>${a.question}${all.length > 1 && html`<span class="choices" role="group" aria-label=${words(list)}>${all.map((m) => html`<button key=${m} aria-pressed=${m === chosen ? 'true' : 'false'} onClick=${() => { choice.value = m }}>${labelOf(list, m)}</button>`)}</span>`}</h2>
    <div class="verdict">${amount && html`<${Amount} entry=${amount} rows=${amount.rows.length > 1 ? mine(amount) : amount.rows} />`}${beside.map((e) => mine(e).map((r) => html`<small class="beside-it" key=${e.label}>${short(e).toLowerCase()} <${Why} entry=${e}><b>${textOf(e, r)}</b><//></small>`))}</div>
    <dl class="prices">${mine(price).map((r) => html`<${Offer} key=${r.label} entry=${price} row=${r} rows=${mine(price)} list=${list} floor=${floor && { entry: floor, row: floor.rows.find((f) => f.label === r.label) }} />`)}</dl>`
}

// Amount says how much there is: put together where that means something. The band
// of a sum is not the sum of bands, so only one planting has one here.
function Amount({ entry, rows }) {
  if (!rows.length) return null
  const one = rows.length === 1
  const text = one ? textOf(entry, rows[0]) : entry.adds ? show(rows.reduce((s, r) => s + (r.x ?? 0), 0), entry.unit) : rows.map((r) => textOf(entry, r)).join(', ')
  const band = one && bandOf(entry, rows[0])
  return html`<span class="amount">${short(entry)} <${Why} entry=${entry}><b>${text}</b><//>${band && html`<small>, ${band}</small>`}</span>`
}

// nameOf gives what tells an offer from the others that are shown: what it refers to,
// beside the list that was chosen, or its own name.
function nameOf(row, rows, list) {
  for (const [other, member] of Object.entries(row.of ?? {})) {
    if (other === list || rows.some((r) => r !== row && r.of?.[other] === member)) continue
    if (other in (rows[0].of ?? {}) && labelOf(other, member) !== row.label) return labelOf(other, member)
  }
  return row.label
}

// A buyer who names his price is asked nothing: kind says "given" of his offer.
function namesHisPrice(entry, row) {
  const axis = entry.axes?.[0]
  const kind = axis && valueOf(`${axis}.kind`).value
  return Boolean(kind) && kind.cells[book.value.axes[axis].indexOf(row.of?.[axis])] === 'given'
}

function Offer({ entry, row, rows, list, floor }) {
  const low = floor?.row
  const under = low && typeof row.x === 'number' && row.x < low.x
  return html`<div class=${under ? 'under' : ''}><dt>${nameOf(row, rows, list)}${namesHisPrice(entry, row) ? ', his price' : ''}</dt>
    <dd><${Why} entry=${entry}><b><${Figure} text=${textOf(entry, row)} /></b><//>
      ${low && html`<small class="floor">${under && icon('under')}${under ? 'under ' : 'floor '}${textOf(floor.entry, low).replace(/(\d)\D*$/, '$1')}</small>`}</dd></div>`
}
