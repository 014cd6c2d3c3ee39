// The pages of the book: the contents list beside them, and the page that is open,
// which the address names: #/crop is a page, #/line/harvest the page of a line.
import { book, home } from './book.js'
import { Other } from './block.js'
import { Chart } from './chart.js'
import { computed, html, signal, useEffect } from './html.js'
import { Lines } from './line.js'
import { List } from './list.js'
import { PrintPage } from './paper.js'
import { Prose, liveText } from './prose.js'
import { Records } from './records.js'
import { Compare } from './scenario.js'

const where = () => { try { return decodeURIComponent(location.hash.slice(2)) } catch { return '' } }
const address = signal(where())
addEventListener('hashchange', () => { address.value = where() })

// slug gives the word that names a page in the address.
const slug = (title, i) => title.toLowerCase().replace(/[^\p{L}\p{N}]+/gu, '-').replace(/^-|-$/g, '') || 'page-' + (i + 1)

const pages = computed(() => {
  const taken = new Set()
  return (book.value?.pages ?? []).map((page, i) => {
    let name = slug(page.title, i)
    while (taken.has(name)) name += '-' + (i + 1)
    taken.add(name)
    return { page, name, title: page.title || book.value.title }
  })
})

// wanted is the line that the address asks for.
const wanted = computed(() => (address.value.startsWith('line/') ? address.value.slice(5) : ''))

const open = computed(() => {
  const list = pages.value
  const line = wanted.value && home(wanted.value)
  return list.find((p) => (line ? p.page === line.page : p.name === address.value)) ?? list[0]
})

const troubles = (page) => page.blocks.reduce((n, block) => n + block.rows.filter((r) => r.value.fault && !r.value.fault.waits).length, 0)

export function Contents() {
  return html`<ol class="contents">${pages.value.map(({ page, name, title }) => {
    const n = troubles(page)
    return html`<li key=${name}><a href=${'#/' + name} aria-current=${open.value?.name === name && address.value !== COMPARE ? 'page' : undefined}><span>${title}</span>${n > 0 ? html`<span class="bad">${n} to put right</span>` : html`<${Headline} page=${page} />`}</a></li>`
  })}</ol>`
}

// Headline is the figure of a page's heading, so that the contents are a second summary.
function Headline({ page }) {
  const { text, stale } = page.headline ? liveText(page.headline) : { text: '' }
  return text ? html`<small class=${stale ? 'old' : undefined}>${text}</small>` : null
}

// titles gives the title of a page.
export const titles = (page) => page.title || book.peek()?.title || ''

export const goToPage = (page) => { location.hash = '#/' + (pages.peek().find((p) => p.page === page)?.name ?? '') }

// goToLine turns to the page of a line, or of the list of a column, and to its place there.
export function goToLine(name) {
  if (wanted.peek() === name) arrive()
  else location.hash = '#/line/' + name
}

// arrive brings the wanted line into view and gives it the keys.
function arrive() {
  const name = wanted.peek()
  const there = name ? document.getElementById('line-' + name) ?? document.querySelector(`[data-list="${CSS.escape(name.split('.')[0])}"]`) : null
  there?.scrollIntoView({ block: 'center' })
  there?.querySelector('button, a')?.focus({ preventScroll: true })
  return Boolean(there)
}

const shown = { lines: Lines, list: List, records: Records, chart: Chart, prose: Prose }

const COMPARE = 'look/compare' // no page's name has a stroke in it

export function Page() {
  const beside = address.value === COMPARE
  const at = beside && book.value ? { name: COMPARE, title: 'Side by side' } : open.value
  useEffect(() => {
    if (!at) return
    document.title = `${at.title}. ${book.peek().title}. Wintertruss`
    if (!arrive() && address.peek()) scrollTo(0, 0)
    document.querySelector('.contents [aria-current]')?.scrollIntoView({ block: 'nearest', inline: 'center' })
  }, [at?.name, wanted.value])
  if (!at) return html`<main class="page" id="page" tabindex="-1"><p class="remark">${book.value ? 'Nothing stands in this book yet. Its file is plain text: headings are pages, and blocks of lines are what is computed.' : 'Opening the book…'}</p></main>`
  if (beside) return html`<main class="page" id="page" tabindex="-1"><${Compare} /><${PrintPage} /></main>`
  return html`<main class="page" id="page" tabindex="-1"><h1>${at.title}</h1><${PrintPage} />
    ${at.page.blocks.map((block, i) => { const Block = shown[block.kind] ?? Other; return html`<${Block} key=${at.name + block.kind + (block.name ?? i)} block=${block} />` })}
    ${!at.page.blocks.length && html`<p class="remark">Nothing stands on this page yet.</p>`}</main>`
}
