// Prose: what people wrote, with live numbers in it. The server made it safe: it
// holds no scripts, no pictures and no markup of its own, and a place for each number.
import { book, valueOf } from './book.js'
import { sentence, useEdit } from './edit.js'
import { html, icon, render, useLayoutEffect, useRef } from './html.js'
import { bandText, oddsText, show } from './show.js'
import { why } from './trace.js'
import { collect, isWeekly, summary } from './value.js'

// read cuts an address, "harvest @ long_tomato, this_week", into its name and words.
function read(address) {
  const [name, where = ''] = address.split('@').map((s) => s.trim())
  return { name, words: where.split(',').map((s) => s.trim()).filter(Boolean) }
}

// placed finds the cells that the words name, as axis -> index; null when a word
// names none of the value's.
function placed(value, words) {
  const at = {}
  for (const word of words) {
    const axis = word === 'this_week' ? 'week' : value.axes.find((a) => !(a in at) && book.peek()?.axes[a]?.includes(word))
    if (!value.axes.includes(axis)) return null
    at[axis] = word === 'this_week' ? book.peek().now : book.peek().axes[axis].indexOf(word)
  }
  return at
}

// narrow keeps of a value the cells of which at names the place, along axes that it
// leaves.
function narrow(value, at) {
  const axes = value.axes.filter((a) => !(a in at))
  const lengths = value.axes.map((a) => book.peek().axes[a].length)
  const cells = []
  for (let cell = 0; cell < value.cells.length; cell++) {
    let rest = cell, kept = true
    for (let k = lengths.length - 1; k >= 0 && kept; k--) {
      const a = value.axes[k]
      kept = !(a in at) || rest % lengths[k] === at[a]
      rest = Math.floor(rest / lengths[k])
    }
    if (kept) cells.push(cell)
  }
  const take = (list) => list && cells.map((c) => list[c])
  return { ...value, axes, cells: take(value.cells), low: take(value.low), high: take(value.high), odds: take(value.odds), season: seasonOf(value, axes, at) }
}

// seasonOf keeps the season's figures of the members that are left.
function seasonOf(value, axes, at) {
  if (!axes.includes('week') || !value.season) return undefined
  const list = { ...value, axes: value.axes.slice(0, -1), cells: value.season, low: undefined, high: undefined, odds: undefined, season: undefined }
  return narrow(list, at).cells
}

// liveText says what an address comes to: over weeks the season's figure, over members
// their sum where they add up, else the least and the most. { text, band, fault }
export function liveText(address) {
  const { name, words } = read(address)
  const all = valueOf(name).value
  if (!all || !all.cells?.length) return { text: '', fault: `There is no number called ${name}` }
  const at = placed(all, words)
  if (!at) return { text: '', fault: `${name} has no cell at ${words.join(', ')}` }
  const value = narrow(all, at)
  if (isWeekly(value)) return { text: collect(value).season(), band: '', stale: all.stale }
  if (value.kind === 'number' && value.adds && value.cells.length > 1) {
    return { text: show(value.cells.reduce((a, b) => a + (b ?? 0), 0), value.unit), band: '', stale: all.stale }
  }
  return { text: summary(value), band: value.cells.length === 1 ? bandText(value, 0) || oddsText(value.odds?.[0]) : '', stale: all.stale }
}

// Live is a number in the text; it opens the panel that says why it is so.
function Live({ address }) {
  const { text, band, fault, stale } = liveText(address)
  if (fault) return html`<span class="wave" title=${fault + '.'}>${'{' + address + '}'}</span>`
  return html`<button class=${'live' + (stale ? ' old' : '')} title=${band ? `${band}, 8 seasons in 10` : undefined} onClick=${() => why(read(address).name)}>${text}<span class="vh">, why</span></button>`
}

export function Prose({ block }) {
  const edit = useEdit((text) => ({ kind: 'write_prose', part: block.part, was: block.text, text: text && text + /\n*$/.exec(block.text)[0] }))
  const text = useRef(null)
  useLayoutEffect(() => { // what the server wrote is not the page's: the numbers are put into it
    const places = [...(text.current?.querySelectorAll('[data-live]') ?? [])]
    for (const place of places) { place.textContent = ''; render(html`<${Live} address=${place.dataset.live} />`, place) }
    return () => { for (const place of places) render(null, place) }
  }, [block.html, edit.open.value])
  if (edit.open.value) return html`<${Writing} edit=${edit} />`
  return html`<div class="prose"><div class="said" ref=${text} dangerouslySetInnerHTML=${{ __html: block.html ?? '' }}></div>
    <button class="write" ref=${edit.opener} onClick=${() => edit.start(block.text.trim())}>${icon('write')}<span class="vh">Write on this text</span></button></div>`
}

// Writing is the text as it was written, with all that its marks mean.
function Writing({ edit }) {
  const { text, fault } = edit.open.value
  const field = useRef(null)
  const fit = () => { const f = field.current; f.style.height = 'auto'; f.style.height = f.scrollHeight + 'px' }
  useLayoutEffect(() => { fit(); field.current.focus({ preventScroll: true }) }, [])
  const keep = () => edit.keep(field.current.value)
  const key = (e) => {
    e.stopPropagation()
    if (e.isComposing) return
    if (e.key === 'Escape') { e.preventDefault(); edit.leave() }
    if (e.key === 'Enter' && (e.ctrlKey || e.metaKey)) { e.preventDefault(); keep() }
  }
  return html`<div class="prose editor writing"><textarea class="in" ref=${field} defaultValue=${text} aria-label="The text of this place" aria-describedby="writing-keys" onInput=${fit} onKeyDown=${key}></textarea>
    ${fault && html`<p class="plain" role="alert">${icon('bad')}<b>${sentence(fault.message)}</b> ${fault.hint ? sentence(fault.hint) : ''}</p>`}
    <div class="keys" id="writing-keys"><button type="button" onClick=${keep}><kbd>Ctrl Enter</kbd> keep</button><button type="button" onClick=${edit.leave}><kbd>Esc</kbd> leave it as it was</button><span class="hint">A line's name in braces, {cash @ this_week}, shows its number.</span></div></div>`
}
