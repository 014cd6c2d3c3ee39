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

// CardTable draws a small published table: a row of heads, rows of figures.
function CardTable({ table, name }) {
  const head = table.columns ?? table.head ?? []
  return html`<div class="ftable"><table><caption class="vh">${table.says ?? table.caption ?? `What ${name} rests on`}</caption>
    ${head.length > 0 && html`<thead><tr>${head.map((c) => html`<th scope="col">${unitText(String(c))}</th>`)}</tr></thead>`}
    <tbody>${(table.rows ?? []).map((row) => html`<tr>${row.map((c) => html`<td>${pretty(String(c))}</td>`)}</tr>`)}</tbody></table>${table.source && html`<small>${table.source}</small>`}</div>`
}
