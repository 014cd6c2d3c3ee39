// The card of a function: what it computes, from what, how far to trust it and who
// says so; with the published table it rests on, where there is one.
import { html, signal } from './html.js'
import { pretty, unitText } from './show.js'

export const cards = signal(null) // of the functions; asked for when the first formula is opened

export async function askForCards() {
  if (cards.peek()) return
  cards.value = []
  try {
    cards.value = await (await fetch('cards.json')).json()
  } catch {
    cards.value = null // no connection: asked again with the next formula
  }
}

// callAt gives the name of the innermost function that is open at the caret.
export function callAt(text, caret) {
  const calls = []
  for (const m of text.slice(0, caret).matchAll(/([a-z_]\w*)\s*\(|[()]/g)) {
    if (m[0] === ')') calls.pop()
    else calls.push(m[1] ?? '')
  }
  return calls.filter(Boolean).at(-1) ?? /^\s*([a-z_]\w*)\s*\(/.exec(text)?.[1] ?? ''
}

const takes = (p) => `${p.says || p.name}${p.unit ? `, in ${unitText(p.unit)}` : ''}${p.optional ? ', if it is given' : ''}`

// FunctionCard shows the card of a function.
export function FunctionCard({ name }) {
  const card = cards.value?.find((c) => c.name === name)
  if (!card) return null
  return html`<aside class="fcard" aria-label=${`The function ${card.name}`}><h3>${card.signature}</h3><p>${unitText(card.says)}</p>
    ${card.table && html`<${CardTable} table=${card.table} name=${card.name} />`}
    <dl>${(card.takes ?? []).length > 0 && html`<dt>Takes</dt><dd><ul>${card.takes.map((p) => html`<li key=${p.name}><code>${p.name}</code> ${takes(p)}</li>`)}</ul></dd>`}
      ${[['Gives', card.gives], ['Trust it', card.valid], ['Source', card.source]].map(([k, v]) => v && html`<dt>${k}</dt><dd>${unitText(v)}</dd>`)}</dl></aside>`
}

// CardTable draws the published table it rests on: two columns lie side by side as
// they are read, more stand as a table.
function CardTable({ table, name }) {
  const head = (h) => `${h.name}${h.unit && h.unit !== '1' ? `, ${unitText(h.unit)}` : ''}`
  const text = (x) => (x === null ? '' : pretty(String(x)))
  const across = table.heads.length === 2 && table.rows.length <= 7 && !table.words
  return html`<div class="ftable"><table><caption>${table.title || `What ${name} rests on`}</caption>
    ${across ? html`<tbody>${table.heads.map((h, k) => html`<tr><th scope="row">${head(h)}</th>${table.rows.map((row) => (k ? html`<td>${text(row[k])}</td>` : html`<th>${text(row[k])}</th>`))}</tr>`)}</tbody>`
      : html`<thead><tr>${table.heads.map((h) => html`<th scope="col">${head(h)}</th>`)}</tr></thead>
    <tbody>${table.rows.map((row) => html`<tr>${row.map((c, k) => (k ? html`<td>${text(c)}</td>` : html`<th scope="row">${text(c)}</th>`))}</tr>`)}</tbody>`}</table>${table.source && html`<small>${table.source}</small>`}</div>`
}
