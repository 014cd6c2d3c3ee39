// Editing in place. What is typed goes to the server as typed; until it is
// acknowledged the row shows it as pending. A refused entry comes back with what is
// wrong, so that nothing typed is lost.
import { home, names, valueOf } from './book.js'
import { computed, html, signal, useComputed, useEffect, useLayoutEffect, useRef, useSignal } from './html.js'
import { unitText, words } from './show.js'
import { isWeekly, summary } from './value.js'
import { focus, weekTag } from './week.js'
import { change, entries, trouble, tryOut } from './wire.js'

// target names what an edit changes, so that its place on the page can say that it waits.
export function target(edit) {
  const what = { set_line: edit.name ?? edit.was, set_cell: `${edit.name} ${edit.member} ${edit.column}`, add_record: edit.name,
    correct_record: `${edit.name} ${edit.record} ${Object.keys(edit.cells ?? {})}`, set_setting: edit.name, pin: edit.address, set_override: `${edit.name} ${edit.address}` }
  return `${edit.kind} ${what[edit.kind] ?? ''}`
}

const waiting = computed(() => new Map(entries.value.filter((e) => e.type === 'edit').map((e) => [target(e.edit), e.edit])))

// usePending gives the newest edit of a target that is not acknowledged. Only its own
// place on the page wakes for it.
export const usePending = (key) => useComputed(() => waiting.value.get(key)).value

// useEdit holds the editor of one place: closed, open, or open again because what
// was kept is refused. make turns the text typed into an edit; the one that counts
// is that of the moment when the editor opened, so that what someone else changes
// meanwhile is not written over unseen.
export function useEdit(make) {
  const open = useSignal(null) // { text, was, make, fault }
  const latest = useRef(make)
  latest.current = make
  const opener = useRef(null)
  const here = useRef(true)
  useEffect(() => { here.current = true; return () => { here.current = false } }, [])
  const close = () => { open.value = null; requestAnimationFrame(() => opener.current?.focus()) }
  return {
    open, opener,
    start: (text) => { open.value = { text, was: text, make } },
    leave: close,
    async keep(text) {
      const { was, make: opened } = open.peek()
      close()
      if (text.trim() === was.trim()) return
      const fault = await change(opened(text.trim()))
      if (!fault) return
      if (here.current) open.value = { text, was: '', make: latest.current, fault }
      else trouble.value = fault
    },
  }
}

// withWritten gives a row's text with something else right of its sign, where it
// can be with the comment left in its column.
export function withWritten(row, written) {
  const at = placeOfWritten(row)
  if (at < 0) return written
  const end = at + row.written.length
  const rest = row.text.slice(end)
  const room = /^ +(?=->|\/\/)/.exec(rest)?.[0].length ?? 0
  const pad = room ? Math.max(1, room - (written.length - row.written.length)) - room : 0
  return row.text.slice(0, at) + written + (pad > 0 ? ' '.repeat(pad) + rest : rest.slice(-pad))
}

// placeOfWritten gives where in a row's text the part that is edited begins.
export function placeOfWritten(row) {
  if (row.written === row.text.trim()) return row.text.indexOf(row.written)
  const sign = row.text.indexOf(row.input ? ':' : '=')
  return row.text.indexOf(row.written, sign + 1)
}

// Wrong shows a text with the place of its fault underlined.
export function Wrong({ text, fault }) {
  const from = Math.max(0, Math.min(text.length, fault.from)), to = Math.max(from, Math.min(text.length, fault.to))
  return html`<code class="formula">${text.slice(0, from)}<span class="wave">${text.slice(from, to) || ' '}</span>${text.slice(to)}</code>`
}

// Formula shows a formula at rest; the screen sets × and −, the book keeps * and -.
export const Formula = ({ text }) => html`<code class="formula">${text.split(/("[^"]*")/).map((t, i) => (i % 2 ? t : t.replace(/\*/g, '×').replace(/-/g, '−')))}</code>`

const cards = signal(null) // of the functions; asked for when the first formula is opened

async function askForCards() {
  if (cards.peek()) return
  cards.value = []
  try {
    cards.value = await (await fetch('cards.json')).json()
  } catch {
    cards.value = null // no connection: asked again with the next formula
  }
}

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

// Editor is a field on raised ground: Enter keeps, Escape leaves it as it was, Tab
// takes a suggested name.
export function Editor({ edit, label, names: suggests, name, hint }) {
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
    const leaving = { Enter: () => edit.keep(typed.value.replace(/\s*\n\s*/g, ' ')), Escape: edit.leave }
    const act = list.length && choosing[e.key] || leaving[e.key]
    if (act && !e.shiftKey) { e.preventDefault(); act() }
  }
  const input = (e) => { moved.value = false; typed.value = e.target.value; caret.value = e.target.selectionStart; chosen.value = 0; quiet.value = false }
  const same = fault && typed.value === text
  return html`<div class="editor">
    <textarea ref=${field} class=${'in' + (same ? ' err' : '')} rows="1" spellcheck=${false} autocomplete="off" autocapitalize="off" aria-label=${label} value=${typed.value}
      aria-invalid=${same ? 'true' : undefined} aria-describedby=${same ? id + '-fault' : id + '-keys'} aria-autocomplete=${suggests ? 'list' : undefined}
      aria-controls=${list.length ? id : undefined} aria-activedescendant=${list.length ? `${id}-${chosen.value % list.length}` : undefined}
      onInput=${input} onKeyDown=${key} onClick=${(e) => { caret.value = e.target.selectionStart }}></textarea>
    ${list.length > 0 && html`<ul class="sugg" id=${id} role="listbox" aria-label="Names that fit">
      ${list.map((item, i) => html`<li key=${item.name} id=${`${id}-${i}`} role="option" aria-selected=${i === chosen.value % list.length} onMouseDown=${(e) => { e.preventDefault(); put(item) }}>
        <${Suggestion} item=${item} word=${word} /></li>`)}</ul>`}
    <${FunctionCard} text=${typed.value} caret=${caret.value} when=${suggests} />
    ${name && html`<${Would} edit=${edit} text=${typed.value} name=${name} />`}
    ${same && html`<div class="plain" id=${id + '-fault'} role="alert"><svg class="i" aria-hidden="true"><use href="#i-bad" /></svg><b>${sentence(fault.message)}</b> ${fault.hint ? sentence(fault.hint) : ''}</div>`}
    <div class="keys" id=${id + '-keys'}>${list.length > 0 && html`<span><kbd>↓</kbd> choose</span><span><kbd>Tab</kbd> take it</span>`}
      <button type="button" onClick=${() => edit.keep(typed.value)}><kbd>Enter</kbd> keep</button><button type="button" onClick=${edit.leave}><kbd>Esc</kbd> leave it as it was</button>${hint && html`<span class="hint">${hint}</span>`}</div>
  </div>`
}

const PAUSE = 250 // ms without a key before it is tried

// Would says what a line would be if what is typed were kept.
function Would({ edit, text, name }) {
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
  if (fault) return html`<p class="would">Not yet: ${sentence(fault.message)}</p>`
  return value ? html`<p class="would">Would give <b>${summary(value, focus.value)}</b>${isWeekly(value) ? ` in ${weekTag(focus.value)}` : ''}</p>` : null
}

// FunctionCard says what the function at the caret computes: the innermost call that
// is open there.
function FunctionCard({ text, caret, when }) {
  const calls = []
  for (const m of text.slice(0, caret).matchAll(/([a-z_]\w*)\s*\(|[()]/g)) {
    if (m[0] === ')') calls.pop()
    else calls.push(m[1] ?? '')
  }
  const card = when && cards.value?.find((c) => c.name === calls.filter(Boolean).at(-1))
  if (!card) return null
  return html`<aside class="fcard" aria-label=${`The function ${card.name}`}><h3>${card.signature}</h3><p>${unitText(card.says)}</p>
    <dl>${[['Gives', card.gives], ['Trust it', card.valid], ['Source', card.source]].map(([k, v]) => v && html`<dt>${k}</dt><dd>${unitText(v)}</dd>`)}</dl></aside>`
}

function Suggestion({ item, word }) {
  const at = item.name.indexOf(word)
  const name = html`<code>${item.name.slice(0, at)}<b>${word}</b>${item.name.slice(at + word.length)}${item.card ? '( )' : ''}</code>`
  if (item.card) return html`${name}<span></span><small>${item.card.says.split(/(?<=[.:]) /)[0]}</small>`
  const there = home(item.name)
  const label = there?.row?.value.label || item.name.split('.').map(words).join(': ')
  return html`${name}<span>${summary(valueOf(item.name).value, focus.value)}</span><small>${label}${there ? `, ${there.page.title}` : ''}</small>`
}

// Put shows what is wrong with a row and the ways out.
export function Put({ fault, text, onUse, onEdit }) {
  const nearest = /did you mean ([\w.]+)\?/.exec(fault.hint ?? '')?.[1]
  return html`<div class="wrongbox"><${Wrong} text=${text} fault=${fault} />
    <p class="plain"><svg class="i" aria-hidden="true"><use href="#i-bad" /></svg><b>${sentence(fault.message)}</b> ${fault.hint ? sentence(fault.hint) : ''}</p>
    <div class="acts">${nearest && html`<button class="act" onClick=${() => onUse(text.slice(0, fault.from) + nearest + text.slice(fault.to))}>Use ${nearest}</button>`}
      <button class=${'act' + (nearest ? ' second' : '')} onClick=${onEdit}>Put it right</button></div></div>`
}

// sentence gives a message of the book as a sentence. A name at its head stays as it is.
export function sentence(text) {
  const head = /^[a-z][\w.]*/.exec(text)?.[0] ?? ''
  return (home(head) ? text : text.charAt(0).toUpperCase() + text.slice(1)) + (/[.?!]$/.test(text) ? '' : '.')
}
