// A line with one figure, or one for each member of a list: what it is, how sure it
// is, and where it comes from.
import { bands } from './book.js'
import { range } from './draw.js'
import { Formula } from './edit.js'
import { Mark, Was } from './figure.js'
import { html, icon } from './html.js'
import { Name, plural } from './name.js'
import { paper } from './paper.js'
import { quantity, split, typed, typedText } from './show.js'
import { why } from './trace.js'
import { figures, summary } from './value.js'

const FEW = 4 // members that are shown at rest; more, when they are asked for

// said says in a few words what the members of a line hold: "2 yes, 2 no", the first
// and the last day, or how many they are.
function said(value, list) {
  if (value.kind === 'yes_no') {
    const yes = list.filter((f) => f.x).length
    return yes === 0 ? 'all no' : yes === list.length ? 'all yes' : `${yes} of ${list.length} yes`
  }
  if (value.kind === 'date') {
    const days = list.filter((f) => f.x).sort((a, b) => (a.x < b.x ? -1 : 1))
    return days.length ? `from ${days[0].text}` : 'not known'
  }
  return value.kind === 'number' ? summary(value, 0) : `${list.length} of them`
}

// Source says where an input comes from, or how a line is computed.
function Source({ row, edit, start, name }) {
  if (row.input) return html`<span>${sourceText(row.source)}</span>`
  if (!row.written) return html`<span></span>`
  return html`<button class="open-formula" ref=${edit.opener} onClick=${start}><span class="vh">Change the formula of ${name}: </span><${Formula} text=${row.written} /></button>`
}

// sourceText begins with a capital where it is our word and not a person's name.
const sourceText = (text) => (/^(invented|common|from memory|own|definition|normal|straight|study|half|large|small|making)\b/.test(text ?? '') ? text[0].toUpperCase() + text.slice(1) : text || '')

export function Scalar({ row, name, value, edit, start, state, pending, opened }) {
  const list = value?.cells?.length ? figures(value) : []
  const one = list.length === 1 ? list[0] : null
  const text = one ? one.text : list.length ? said(value, list) : 'no value yet'
  const own = row.input && asTyped(row.written, one, value)
  const { number, unit } = own ? split(own.text) : split(text)
  const shown = html`<b>${number}</b>${unit && html` <small>${unit.trim()}</small>`}`
  const many = list.length > FEW
  return html`
    <div class="lab">${many && html`<button class="exp" aria-expanded=${opened.value} aria-label=${`Members of ${name}`} onClick=${() => { opened.value = !opened.value }}>${icon('chev')}</button>`}<${Name} row=${row} field=${row.input} note=${list.length > 1 ? `${list.length} ${value.axes.map(plural).join(' by ')}` : ''} /></div>
    <div class="one">${row.input
      ? html`<button class="chip" ref=${edit.opener} onClick=${start}><span class="vh">Change ${name}: </span>${pending ? html`<b>${quantity(writtenOf(pending.text))}</b>` : shown}</button>`
      : html`<button class="calc why" onClick=${() => why(row.name)}><span class="vh">Why ${name} is </span>${shown}</button>`}<${Mark} state=${state === 'wrong' && !value?.stale ? undefined : state} since=${value?.since} /><${Was} name=${row.name} now=${text} /></div>
    <div class="rng">${one && range(one.low, one.x, one.high)}<span>${own?.band || one?.band || one?.odds || (value?.waits && bands.value === 'drawing' ? html`<i class="drawing"></i><span class="vh">drawing…</span>` : '')}</span></div>
    <div class="src">${state !== 'wrong' && html`<${Source} row=${row} edit=${edit} start=${start} name=${name} />`}</div>
    ${list.length > 1 && (!many || opened.value || paper.value) && html`<dl class="each">${list.map((f, k) => html`<div><dt>${f.label}</dt><dd><button class="why" onClick=${() => why(row.name, k)}><span class="vh">Why ${name}, ${f.label} is </span><b>${split(f.text).number}</b></button>${(f.band || f.odds) && html` <small>${f.band || f.odds}</small>`}</dd></div>`)}</dl>`}`
}

// asTyped gives an input's figure and range as they were typed, which is how exact
// they are; null when something else holds, a pin or another value for once.
function asTyped(written, one, value) {
  if (/^chance\(/.test(written)) return { text: quantity(written), band: '' }
  const it = typed(written)
  if (!it || !one || it.unit !== value.unit || Math.abs(it.middle - one.x) > 1e-9 * Math.abs(one.x)) return null
  return { text: typedText(it.middle, it.unit), band: it.low ? `${split(typedText(it.low, it.unit)).number} to ${split(typedText(it.high, it.unit)).number}` : '' }
}

// writtenOf guesses the right side of a row that the server has not read yet.
const writtenOf = (text) => text.replace(/^[^:=]*[:=]\s*/, '').replace(/\s*(->|\/\/).*$/, '')
