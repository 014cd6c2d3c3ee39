// The page on paper: a page of the book is printed as a sheet of its own. What the
// screen opens when it is asked for lies open there, as nobody can ask a paper.
import { html, icon, signal } from './html.js'

const print = matchMedia('print')

// paper says that the page is being put on paper.
export const paper = signal(print.matches)
print.addEventListener('change', (e) => { paper.value = e.matches })
addEventListener('beforeprint', () => { paper.value = true })
addEventListener('afterprint', () => { paper.value = false })

export const PrintPage = () => html`<button class="tool" id="print" onClick=${() => window.print()}>${icon('print')}<span>Print this page</span></button>`
