// What the book warns of, beside the number it speaks of.
import { book, cautions, labelOf } from './book.js'
import { sentence } from './edit.js'
import { html, icon, useComputed } from './html.js'

// placed puts the first cell that fails into words: "at long_tomato, 2027-W03".
function placed(where, cells) {
  if (!where) return ''
  const labels = book.value?.labels ?? {}
  const words = where.replace(/^at /, '').split(', ').map((m) => (/^\d{4}-W\d\d$/.test(m) ? 'W' + m.slice(-2) : labelOf(Object.keys(labels).find((axis) => labels[axis][m]) ?? '', m)))
  return ` First ${words.join(', in ')}${cells > 1 ? `, ${cells} in all` : ''}.`
}

export function Care({ name }) {
  const mine = useComputed(() => cautions.value.filter((c) => new RegExp(`(?<![\\w.])${name}(?![\\w.])`).test(c.of))).value
  return mine.map((c) => html`<p class="take-care" key=${c.message}>${icon('bad')}<span><b>Take care.</b> ${sentence(c.message)}${placed(c.where, c.cells)}</span></p>`)
}
