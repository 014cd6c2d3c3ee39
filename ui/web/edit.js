// Editing in place. What is typed goes to the server as typed; until it is
// acknowledged the row shows it as pending. A refused entry comes back with what is
// wrong, so that nothing typed is lost.
import { home } from './book.js'
import { computed, html, useComputed, useEffect, useRef, useSignal } from './html.js'
import { change, entries, trouble } from './wire.js'

// target names what an edit changes, so that its place on the page can say that it waits.
export function target(edit) {
  const what = { set_line: edit.name ?? edit.was, set_cell: `${edit.name} ${edit.member} ${edit.column}`, add_record: edit.name,
    correct_record: `${edit.name} ${edit.record} ${Object.keys(edit.cells ?? {})}`, set_setting: edit.name, pin: edit.address, unpin: edit.address, add_member: `${edit.name} ${edit.member}`, remove_member: `${edit.name} ${edit.member}`, remove_record: `${edit.name} ${edit.record}`, set_override: `${edit.name} ${edit.address}` }
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

// sentence gives a message of the book as a sentence. A name at its head stays as it is.
export function sentence(text) {
  const head = /^[a-z][\w.]*/.exec(text)?.[0] ?? ''
  return (home(head) ? text : text.charAt(0).toUpperCase() + text.slice(1)) + (/[.?!]$/.test(text) ? '' : '.')
}
