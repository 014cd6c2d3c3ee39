// The purse over the season, small, beside the answer about the loan: the weekly line
// whose least an entry of the answer says.
import { home, valueOf } from './book.js'
import { chart } from './draw.js'
import { html } from './html.js'
import { collect, isWeekly } from './value.js'
import { across, now, weekTag } from './week.js'

// purseOf finds it: an entry that is the smallest of a line that runs over the weeks
// alone. It gives the line's name and the place of the week in which it is least.
export function purseOf(entries) {
  for (const e of entries) {
    const row = home(e.name)?.row?.value
    if (!/^smallest\s*\(/.test(row?.written ?? '')) continue
    for (const name of row.reads ?? []) {
      const value = valueOf(name).value
      if (!isWeekly(value) || value.axes.length !== 1) continue
      const least = Math.min(...value.cells.filter((x) => typeof x === 'number'))
      const low = value.cells.indexOf(least)
      if (low >= 0) return { name, low }
    }
  }
  return null
}

export function Purse({ name, low }) {
  const value = valueOf(name).value
  const line = collect(value)
  const label = home(name)?.row?.value.label || name
  const x = Math.min(92, Math.max(8, across(low + 0.5)))
  return html`<span class="purse"><span class="curve">${chart({ ...line, now: now.value, zero: true, label: `${label}, week by week, least in ${weekTag(low)}` })}
    <i class="knot" style=${{ left: across(low + 0.5) + '%', top: line.at(low) }}></i></span><small style=${{ left: x + '%' }} aria-hidden="true">${weekTag(low)}</small></span>`
}
