// A figure as it stands in a line: number and unit, what is the matter with it, and
// what it was before somebody else changed it.
import { beforeOf } from './book.js'
import { html } from './html.js'
import { split } from './show.js'
import { summary } from './value.js'

const clock = (at) => new Date(at).toLocaleTimeString('en-GB', { hour: '2-digit', minute: '2-digit' })

// Mark says what is the matter: the last good figure of a line in error is stale.
export const Mark = ({ state, since }) => (state === 'stale' || state === 'wrong' ? html`<small class="stale">stale${since ? ` since ${clock(since)}` : ''}</small>` : state === 'pending' ? html`<small class="unsaved">not saved yet</small>` : null)

// Was shows what a figure was before someone else changed it.
export function Was({ name, now: text, week = 0 }) {
  const old = beforeOf(name ?? '').value
  const was = old && summary(old, week)
  return was && was !== text ? html`<small class="was">was ${was}</small>` : null
}

// Amount sets a figure's unit smaller than its number.
export const Amount = ({ text }) => { const { number, unit } = split(text); return html`<b class=${text === 'not known' ? 'blank' : undefined}>${number}</b>${unit && html`<span class="unit">${unit}</span>`}` }

const gathered = { sum: '', mean: 'mean', level: 'at the end' }

// Season is what the weeks come to, put together as the line gathers.
export const Season = ({ line, gather }) => {
  const text = line.season()
  const { number, unit } = split(text)
  const long = text.length > 14
  const below = [long && unit.trim(), number && gathered[gather]].filter(Boolean).join(', ')
  return html`${number}${!long && unit && html`<span class="unit">${unit}</span>`}${below && html`<small>${below}</small>`}`
}
