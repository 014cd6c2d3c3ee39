// Blocks that are neither lines nor tables: settings, pins, scenarios, cautions and
// the like. Their rows are read as a person would say them; where an edit of that
// kind exists, the right side is changed in place.
import { book, home, labelOf } from './book.js'
import { Formula, target, usePending } from './edit.js'
import { html } from './html.js'
import { Faults, InPlace, Remarks } from './list.js'
import { pretty, quantity, words } from './show.js'
import { weeks } from './week.js'
import { change } from './wire.js'

const titles = {
  settings: 'Settings', pins: 'Pinned by hand', cautions: 'Cautions', links: 'What moves together', observe: 'Held against records', answers: 'What the answers read', scenario: 'What if', chart: 'Chart',
}

// parse cuts a row into what stands left and right of its sign, and its comment.
function parse(kind, text) {
  const comment = /\s*\/\/\s*(.*?)\s*(?:\[(.*)\])?\s*$/.exec(text)
  const body = comment ? text.slice(0, comment.index) : text
  const sign = kind === 'observe' ? '~' : kind === 'scenario' ? /[:=]/.exec(body)?.[0] ?? ':' : ':'
  const at = kind === 'cautions' ? body.lastIndexOf(' :') + 1 : body.indexOf(sign)
  if (at < 0) return { left: body.trim(), sign: '', right: '', note: comment?.[1] ?? '', comment: '' }
  return { left: body.slice(0, at).trim(), sign, right: body.slice(at + 1).trim(), note: [comment?.[1], comment?.[2]].filter(Boolean).join(', '), comment: text.slice(body.length).replace(/^\s*\/\/\s*/, '') }
}

// said puts names of lines, members and weeks into words.
function said(address) {
  const [name, where = ''] = address.split('@').map((s) => s.trim())
  const places = where.split(',').map((s) => s.trim()).filter(Boolean).map((w) => (/^\d{4}-W/.test(w) ? 'W' + w.slice(-2) + (weeks.value.some((x) => x.name === w) ? '' : ' of ' + w.slice(0, 4)) : labelOf(anyAxis(w), w)))
  return { name: home(name)?.row?.value.label || words(name.replace('.', ', ')), places: places.join(', ') }
}

const anyAxis = (member) => Object.keys(labelsOf()).find((axis) => labelsOf()[axis][member]) ?? ''
const labelsOf = () => book.value?.labels ?? {}

const edits = {
  settings: (block, row, text) => ({ kind: 'set_setting', name: row.left, text }),
  pins: (block, row, text) => ({ kind: 'pin', address: row.left, text: withNote(text, row) }),
  scenario: (block, row, text) => ({ kind: 'set_override', name: block.name, address: row.left, text: row.sign === '=' ? '= ' + text : text }),
}

const withNote = (text, row) => (row.comment ? `${text} // ${row.comment}` : text)

export function Other({ block }) {
  const rows = block.rows.map((r) => r.value)
  const list = rows.filter((r) => r.kind !== 'comment')
  const quiet = ['answers', 'links', 'observe', 'settings'].includes(block.kind)
  const title = block.title || (block.kind === 'scenario' ? words(block.name) : titles[block.kind])
  const body = html`<dl class="rows">${list.map((row) => html`<${OtherRow} key=${row.part} block=${block} row=${row} />`)}</dl><${Faults} rows=${rows} /><${Remarks} rows=${rows} />`
  if (quiet) return html`<details class="table quiet" data-block=${block.kind}><summary>${title}</summary>${body}</details>`
  return html`<section class="table" data-block=${block.kind}><h2 class="head">${title}${block.kind === 'scenario' ? html` <small>what if</small>` : ''}</h2>${body}</section>`
}

function OtherRow({ block, row }) {
  const it = parse(block.kind, row.text)
  const make = edits[block.kind]
  const { name, places } = block.kind === 'pins' || block.kind === 'scenario' ? said(it.left) : { name: block.kind === 'settings' ? words(it.left) : pretty(it.left).replace('<=', '≤').replace('>=', '≥'), places: '' }
  const pending = make && usePending(target(make(block, it, '')))?.text
  const label = `${name}${places ? ', ' + places : ''}`
  return html`<div><dt>${block.kind === 'pins' && html`<svg class="pin" viewBox="0 0 14 14" aria-hidden="true"><path d="M7 1l6 6l-6 6l-6 -6z" /></svg>`}${name}${places && html`<small>${places}</small>`}</dt>
    <dd>${make && it.sign ? html`<${InPlace} make=${(text) => make(block, it, text)} written=${pending ?? it.right} shown=${it.sign === '=' ? html`<${Formula} text=${'= ' + (pending ?? it.right)} />` : quantity(pending ?? it.right)} pending=${pending !== undefined} label=${label} />` : html`<span>${it.right.replace(/^"|"$/g, '')}</span>`}
      ${it.note && html`<small>${it.note}</small>`}${block.kind === 'pins' && it.sign && html`<button class="tool-link" onClick=${() => change({ kind: 'unpin', address: it.left, was: row.text })}>Let it go<span class="vh">: ${label}</span></button>`}</dd></div>`
}
