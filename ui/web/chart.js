// A chart of the book: the lines it names, tall, in the page's time field, apart by
// the members of a list where it says so.
import { home, valueOf } from './book.js'
import { chart } from './draw.js'
import { html } from './html.js'
import { Amount, Season } from './figure.js'
import { Columns } from './line.js'
import { words } from './show.js'
import { collect, isWeekly, part } from './value.js'
import { focus, now, pick } from './week.js'

// keys reads the rows "key : value".
const keys = (rows) => Object.fromEntries(rows.map((r) => r.value.text.split('//')[0].split(':').map((s) => s.trim())).filter((p) => p.length === 2))

export function Chart({ block }) {
  const { kind = '', lines = '', split = '' } = keys(block.rows)
  const names = lines.split(',').map((s) => s.trim()).filter(Boolean)
  const figures = names.flatMap((name) => {
    const value = valueOf(name).value
    if (!isWeekly(value) || !value.cells.length) return []
    const label = home(name)?.row?.value.label || words(name)
    const line = collect(value)
    if (split && line.parts.length > 1) return line.parts.map((p) => ({ label: p.label, note: label, value: part(value, p) }))
    return [{ label, note: '', value }]
  })
  return html`<section class="table" data-chart=${block.title}><h2 class="head">${block.title || 'Chart'}</h2>
    ${figures.length ? html`<div class="lines weeks"><div class="wash"></div><div class="string"></div><${Columns} />
      ${figures.map(({ label, note, value }) => html`<${Tall} key=${label + note} label=${label} note=${note} value=${value} fan=${kind === 'fan'} />`)}</div>`
      : html`<p class="remark">This picture names no line that runs over the weeks.</p>`}</section>`
}

function Tall({ label, note, value, fan }) {
  const i = focus.value
  const line = collect(value)
  const top = line.known(i) ? line.at(i, fan) : '0'
  return html`<div class="line tall"><div class="lab"><div class="name">${label}<small>${note}</small></div></div>
    <div class="time" onClick=${pick}>${chart({ ...line, now: now.value, fan, label: `${label}, week by week; its numbers stand with its line` })}<i class="knot" hidden=${!line.known(i)} style=${{ top }}></i></div>
    <div class="vals"><div><${Amount} text=${line.text(i)} /><small>${line.band(i)}</small></div><div class="sum"><${Season} line=${line} gather=${value.gather} /></div></div></div>`
}
