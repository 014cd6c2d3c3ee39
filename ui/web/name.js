// What a line is called on the page. A label's first words name it; what follows a
// comma or a colon says more and stands below, quieter. The name that formulas use
// is shown where formulas are.
import { book } from './book.js'
import { html } from './html.js'
import { words } from './show.js'
import { why } from './trace.js'

// parted cuts a label at its first stop: "Hired hour, with taxes" is Hired hour. A row
// of things stays whole: "Boxes, bags and driving".
export function parted(label) {
  const m = /^(.{4,}?)[,:;]\s+(.+)$/s.exec(label)
  const row = m && (/^and\b/.test(m[2]) || / and /.test(m[2]) && m[2].split(' ').length <= 4)
  return m && !row ? { head: m[1], tail: m[2] } : { head: label, tail: '' }
}

// fullName gives a line's label, or its name in words.
export const fullName = (row) => row.label || words(row.name || 'A line that cannot be read')

// plural gives the word for several members of a list: plantings, houses, crops.
export const plural = (axis) => axis.replace(/_/g, ' ').replace(/y$/, 'ie').replace(/(s|x|ch|sh)$/, '$1e') + 's'

// together says what stands behind a line over a list: "4 plantings together".
export function together(value) {
  const axes = value?.axes?.filter((a) => a !== 'week') ?? []
  if (!axes.length || !value.cells?.length) return ''
  const many = axes.reduce((n, a) => n * (book.peek()?.axes[a]?.length ?? 1), 1)
  return `${many} ${axes.map(plural).join(' by ')}${value.adds ? ' together' : ''}`
}

// Name shows it. Where the figure beside it is a field, the name is the way to the
// panel that says why; elsewhere it is one more.
export function Name({ row, note, field }) {
  const { head, tail } = parted(fullName(row))
  const more = [tail, note].filter(Boolean).join('; ')
  const ask = row.name ? () => why(row.name) : undefined
  return html`<div class="name">${field && ask
    ? html`<button class="title" onClick=${ask}><span class="vh">Where it goes and where it is from: </span>${head}</button>`
    : html`<span class="title" onClick=${ask}>${head}</span>`}${more && html`<small>${more}</small>`}</div>`
}
