// The editor of one place: a field on raised ground with the names that fit, the card
// of the function at the caret, and what would come of it. Enter keeps, Escape leaves
// it as it was, Tab takes a suggested name.
import { home, names, valueOf } from './book.js'
import { FunctionCard, askForCards, callAt, cards } from './card.js'
import { Parts, Schedule } from './literal.js'
import { sentence } from './edit.js'
import { html, icon, useEffect, useLayoutEffect, useRef, useSignal } from './html.js'
import { words } from './show.js'
import { isWeekly, summary } from './value.js'
import { focus, weekTag } from './week.js'
import { tryOut } from './wire.js'

const SUGGESTIONS = 6

// suggest gives the names that fit the word before the caret.
function suggest(text, caret) {
  const before = text.slice(0, caret)
  const word = /[a-z_][a-z0-9_.]*$/.exec(before)?.[0] ?? ''
  if (word.length < 2 || (before.match(/"/g) ?? []).length % 2) return { word, list: [] }
  const all = [...names().map((name) => ({ name, put: name })), ...(cards.value ?? []).map((card) => ({ name: card.name, put: card.name + '(', card }))]
  const fits = all.filter(({ name }) => name !== word && name.includes(word))
  fits.sort((a, b) => b.name.startsWith(word) - a.name.startsWith(word) || a.name.length - b.name.length || (a.name < b.name ? -1 : 1))
  return { word, list: fits.slice(0, SUGGESTIONS) }
}

// Editor: names, whether names are suggested; name, the line that "would give"
// speaks of; literal, whether a number with its range may be edited by its parts;
// schedule, whether it has steps, each with the week from which it holds.
export function Editor({ edit, label, names: suggests, name, literal, schedule, unit, hint }) {
  const { text, fault } = edit.open.value
  const field = useRef(null)
  const typed = useSignal(text)
  const caret = useSignal(text.length)
  const chosen = useSignal(0)
  const moved = useSignal(false) // the arrows chose: Enter takes that
  const quiet = useSignal(true) // nothing is suggested before the first key
  const id = useRef('editor-' + Math.random().toString(36).slice(2)).current
  useLayoutEffect(() => { // at once: the next key may come before the next frame
    const f = field.current
    f.focus()
    if (suggests) askForCards()
    if (fault) f.setSelectionRange(text.length, text.length)
    else f.select()
  }, [fault])
  const { word, list } = suggests && !quiet.value ? suggest(typed.value, caret.value) : { word: '', list: [] }
  const put = (item) => {
    const at = caret.value - word.length
    typed.value = typed.value.slice(0, at) + item.put + typed.value.slice(caret.value)
    caret.value = at + item.put.length
    quiet.value = true
    requestAnimationFrame(() => { field.current.focus(); field.current.setSelectionRange(caret.value, caret.value) })
  }
  const key = (e) => {
    e.stopPropagation()
    if (e.isComposing) return
    const move = (by) => { chosen.value = (chosen.value + by + list.length) % list.length; moved.value = true }
    const take = () => put(list[chosen.value % list.length])
    const choosing = { ArrowDown: () => move(1), ArrowUp: () => move(-1), Tab: take, ...(moved.value && { Enter: take }) }
    const act = list.length && choosing[e.key] || leaving[e.key]
    if (act && !e.shiftKey) { e.preventDefault(); act() }
  }
  const leaving = { Enter: () => edit.keep(typed.value.replace(/\s*\n\s*/g, ' ')), Escape: edit.leave }
  const input = (e) => { moved.value = false; typed.value = e.target.value; caret.value = e.target.selectionStart; chosen.value = 0; quiet.value = false }
  const place = (e) => { caret.value = e.target.selectionStart }
  const same = fault && typed.value === text
  return html`<div class=${'editor' + (suggests ? ' with-card' : '')}><div class="edit-main">
    <textarea ref=${field} class=${'in' + (same ? ' err' : '')} rows="1" spellcheck=${false} autocomplete="off" autocapitalize="off" aria-label=${label} value=${typed.value}
      aria-invalid=${same ? 'true' : undefined} aria-describedby=${same ? id + '-fault' : id + '-keys'} aria-autocomplete=${suggests ? 'list' : undefined}
      aria-controls=${list.length ? id : undefined} aria-activedescendant=${list.length ? `${id}-${chosen.value % list.length}` : undefined}
      onInput=${input} onKeyDown=${key} onClick=${place} onKeyUp=${(e) => { if (/^(Arrow|Home|End)/.test(e.key) && !list.length) place(e) }}></textarea>
    ${literal && html`<${Parts} typed=${typed} label=${label} leaving=${leaving} />`}
    ${schedule && html`<${Schedule} typed=${typed} label=${label} unit=${unit} leaving=${leaving} />`}
    ${list.length > 0 && html`<ul class="sugg" id=${id} role="listbox" aria-label="Names that fit">
      ${list.map((item, i) => html`<li key=${item.name} id=${`${id}-${i}`} role="option" aria-selected=${i === chosen.value % list.length} onMouseDown=${(e) => { e.preventDefault(); put(item) }}>
        <${Suggestion} item=${item} word=${word} /></li>`)}</ul>`}
    ${same && html`<div class="plain" id=${id + '-fault'} role="alert">${icon('bad')}<b>${sentence(fault.message)}</b> ${fault.hint ? sentence(fault.hint) : ''}</div>`}
    <div class="keys" id=${id + '-keys'}>${list.length > 0 && html`<span><kbd>↓</kbd> choose</span><span><kbd>Tab</kbd> take it</span>`}
      <button type="button" onClick=${leaving.Enter}><kbd>Enter</kbd> keep</button><button type="button" onClick=${edit.leave}><kbd>Esc</kbd> leave it as it was</button>
      ${name ? html`<${Would} edit=${edit} text=${typed.value} name=${name} hint=${hint} />` : hint && html`<span class="hint">${hint}</span>`}</div></div>
    ${suggests && html`<${FunctionCard} name=${callAt(typed.value, caret.value)} />`}
  </div>`
}

const PAUSE = 250 // ms without a key before it is tried

// Would says what a line would be if what is typed were kept.
function Would({ edit, text, name, hint }) {
  const said = useSignal(null)
  useEffect(() => {
    const { was, make } = edit.open.peek()
    said.value = null
    if (!text.trim() || text.trim() === was.trim()) return
    let current = true
    const timer = setTimeout(async () => {
      const { values, fault } = await tryOut(make(text.trim()), name)
      if (current) said.value = { value: values?.[name], fault: fault ?? values?.[name]?.fault }
    }, PAUSE)
    return () => { current = false; clearTimeout(timer) }
  }, [text])
  const { value, fault } = said.value ?? {}
  if (fault) return html`<p class="would not">Not yet: ${sentence(fault.message)}</p>`
  if (!value) return hint ? html`<span class="hint">${hint}</span>` : null
  const now = summary(value, focus.value)
  const was = summary(valueOf(name).peek(), focus.value)
  return html`<p class="would">Would give <b>${now}</b>${isWeekly(value) ? ` in ${weekTag(focus.value)}` : ''}${was === now ? ', unchanged' : was ? `, now ${was}` : ''}</p>`
}

function Suggestion({ item, word }) {
  const at = item.name.indexOf(word)
  const name = html`<code>${item.name.slice(0, at)}<b>${word}</b>${item.name.slice(at + word.length)}${item.card ? '( )' : ''}</code>`
  if (item.card) return html`${name}<span></span><small>${item.card.says.split(/(?<=[.:]) /)[0]}</small>`
  const there = home(item.name)
  const value = valueOf(item.name).value
  const label = there?.row?.value.label || item.name.split('.').map(words).join(': ')
  return html`${name}<span>${summary(value, focus.value)}</span><small>${label}${there ? html`<br />${there.page.title}${isWeekly(value) ? ', weekly' : ''}` : ''}</small>`
}
