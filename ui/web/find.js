// Find a line: by its label, by the name that formulas use, or by its page. What is
// found stands with its present value; Enter goes there.
import { book, home, names, valueOf } from './book.js'
import { html, icon, useLayoutEffect, useRef, useSignal } from './html.js'
import { goToLine, goToPage, titles } from './page.js'
import { words } from './show.js'
import { summary } from './value.js'
import { focus, weekTag } from './week.js'
import { isWeekly } from './value.js'

const MOST = 9 // found at once

// all gives what can be gone to: pages, lines, columns of lists.
function all() {
  const lines = names().map((name) => {
    const at = home(name)
    return at && { name, label: at.row?.peek().label || name.split('.').map(words).join(', '), page: titles(at.page) }
  })
  return [...(book.peek()?.pages ?? []).map((page) => ({ name: '', label: titles(page), page: 'page', go: page })), ...lines.filter(Boolean)]
}

// found gives the best fits: every word typed stands in label, name or page; what
// begins with it comes first, then what is short.
function found(text) {
  const wanted = text.toLowerCase().split(/\s+/).filter(Boolean)
  if (!wanted.length) return []
  const rank = (it) => {
    const label = it.label.toLowerCase(), name = it.name.replace(/[_.]/g, ' ')
    if (!wanted.every((w) => label.includes(w) || it.name.includes(w) || name.includes(w) || it.page.toLowerCase().startsWith(w))) return -1
    const whole = wanted.join(' ')
    return (label === whole || it.name === whole ? 8 : 0) + (label.startsWith(whole) || it.name.startsWith(whole) ? 4 : 0) + (label.includes(whole) ? 2 : 0) + (it.name.includes('.') ? 0 : 1)
  }
  return all().map((it) => ({ it, rank: rank(it) })).filter((x) => x.rank >= 0)
    .sort((a, b) => b.rank - a.rank || a.it.label.length - b.it.label.length || (a.it.label < b.it.label ? -1 : 1)).slice(0, MOST).map((x) => x.it)
}

export function Find() {
  const field = useRef(null)
  const typed = useSignal('')
  const at = useSignal(0)
  const open = useSignal(false)
  useLayoutEffect(() => {
    const key = (e) => {
      if (e.key.toLowerCase() !== 'k' || !(e.ctrlKey || e.metaKey) || e.altKey || e.shiftKey) return
      e.preventDefault()
      field.current.focus()
      field.current.select()
    }
    document.addEventListener('keydown', key)
    return () => document.removeEventListener('keydown', key)
  }, [])
  const list = open.value ? found(typed.value) : []
  const chosen = list.length ? at.value % list.length : -1
  const go = (it) => {
    open.value = false
    typed.value = ''
    field.current.blur()
    if (it.go) goToPage(it.go)
    else goToLine(it.name)
  }
  const key = (e) => {
    e.stopPropagation()
    if (e.isComposing) return
    const move = (by) => { at.value = (chosen + by + list.length) % list.length }
    const act = { ArrowDown: list.length && (() => move(1)), ArrowUp: list.length && (() => move(-1)), Enter: list.length && (() => go(list[chosen])), Escape: () => { typed.value = ''; open.value = false; field.current.blur() } }[e.key]
    if (act) { e.preventDefault(); act() }
  }
  return html`<div class="find" role="search">
    <label class="vh" for="find">Find a line</label>
    <input id="find" ref=${field} type="text" placeholder="Find a line" autocomplete="off" spellcheck=${false} role="combobox" aria-autocomplete="list" aria-expanded=${list.length ? 'true' : 'false'} aria-controls="found"
      aria-activedescendant=${chosen >= 0 ? 'found-' + chosen : undefined} value=${typed.value} onInput=${(e) => { typed.value = e.target.value; at.value = 0; open.value = true }} onKeyDown=${key} onBlur=${() => { open.value = false }} />
    <kbd aria-hidden="true">Ctrl K</kbd>
    <ul id="found" role="listbox" aria-label="Lines that fit" hidden=${!list.length}>${list.map((it, i) => html`<li key=${it.name + it.page + it.label} id=${'found-' + i} role="option" aria-selected=${i === chosen ? 'true' : 'false'} onMouseDown=${(e) => { e.preventDefault(); go(it) }}><${Found} it=${it} /></li>`)}</ul>
    ${open.value && typed.value.trim() && !list.length && html`<p class="none" role="status">Nothing in this book is called so.</p>`}</div>`
}

function Found({ it }) {
  const value = it.name ? valueOf(it.name).value : null
  return html`<b>${it.label}</b><span>${value ? summary(value, focus.value) : icon('chev')}</span><small>${[it.page, it.name, value && isWeekly(value) && weekTag(focus.value)].filter(Boolean).join(' · ')}</small>`
}
