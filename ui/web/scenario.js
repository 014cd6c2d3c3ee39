// Scenarios: the book as it would be if. One can be looked at in place of the plan, by
// this page alone; all of them can be set beside it. What is edited is the plan.
import { bands, book, home, look, number, planAnswers, scenario, see } from './book.js'
import { short, textOf } from './answers.js'
import { dotsOf20, spread } from './draw.js'
import { computed, effect, html, icon, signal, useEffect } from './html.js'
import { parted } from './name.js'
import { band, show, words } from './show.js'
import { lookAt, onLook } from './wire.js'

export const scenarios = computed(() => (book.value?.pages ?? []).flatMap((p) => p.blocks).filter((b) => b.kind === 'scenario').map((b) => ({ name: b.name, title: b.title || words(b.name) })))

const beside = signal({}) // scenario -> { answers, drawn, steps }

onLook((message) => {
  if (message.fault) { if (message.scenario === scenario.peek()) turn(''); return }
  if (message.number !== number.peek()) return
  beside.value = { ...beside.peek(), [message.scenario]: { answers: message.answers ?? [], drawn: Boolean(message.draws), steps: message.steps ?? beside.peek()[message.scenario]?.steps ?? [] } }
  if (message.values) see(message)
})

// turn looks at a scenario, or at the plan again.
export function turn(name) {
  look(name)
  lookAt({ scenario: name })
}

// A scenario that is in the book no more is not looked at.
effect(() => { if (scenario.value && book.value && !scenarios.value.some((s) => s.name === scenario.value)) queueMicrotask(() => turn('')) })

export function Scenarios() {
  if (!scenarios.value.length) return null
  return html`<div class="plans"><label for="scenario" class="vh">Look at</label><span class="pick"><select id="scenario" value=${scenario.value} onChange=${(e) => turn(e.target.value)}>
      <option value="" selected=${!scenario.value}>The plan</option>
      ${scenarios.value.map(({ name, title }) => html`<option key=${name} value=${name} selected=${name === scenario.value}>${title}</option>`)}</select>${icon('chev')}</span>
    <a href="#/look/compare" class="tool" aria-current=${location.hash === '#/look/compare' ? 'page' : undefined}>Compare</a></div>`
}

// Looking says that what is shown is not the plan.
export function Looking() {
  const it = scenarios.value.find((s) => s.name === scenario.value)
  if (!it) return null
  return html`<div class="looking" role="status"><span><b>${it.title}.</b> This page shows what would be; dashes are the plan. What you change, you change in the plan.</span><button onClick=${() => turn('')}>Back to the plan</button></div>`
}

const singles = (answers) => answers.flatMap((a) => a.entries.filter((e) => e.rows.length === 1).map((e, i) => ({ answer: a, entry: e, lead: i === 0, key: a.key + ' ' + e.name + e.label })))

// Compare sets the scenarios below the plan, each with the figures of the answers.
export function Compare() {
  const names = scenarios.value.map((s) => s.name)
  useEffect(() => { lookAt({ beside: names }); return () => lookAt({ beside: [] }) }, [names.join()])
  const columns = singles(planAnswers.value)
  const rows = [{ name: '', title: 'The plan', answers: planAnswers.value, drawn: bands.value === 'done' || scenario.value }, ...scenarios.value.map((s) => ({ ...s, ...beside.value[s.name] }))]
  const cellOf = (row, c) => singles(row.answers ?? []).find((x) => x.key === c.key)
  const ends = (c) => rows.map((r) => cellOf(r, c)?.entry.rows[0]).filter((r) => r && typeof r.x === 'number')
  const most = (c) => (c.entry.op && c.entry.op.startsWith('>') ? Math.max(...ends(c).map((r) => r.x)) : NaN)
  return html`<h1>Side by side</h1>
    <p class="said">Each scenario is the whole book with what it changes, on the same draws of weather, prices and luck as the plan.</p>
    <div class="scroll" role="region" tabindex="0" aria-label="Scenarios side by side"><table class="beside-plan"><caption class="vh">The plan and its scenarios, by the figures of the answers</caption>
      <thead><tr><th scope="col"><span class="vh">Scenario</span></th>${columns.map((c) => html`<th scope="col" key=${c.key}>${c.lead && html`<small>${c.answer.question}</small>`}${short(c.entry)}</th>`)}</tr></thead>
      <tbody>${rows.map((row) => html`<tr key=${row.name} class=${row.name === scenario.value ? 'cur' : undefined}><th scope="row">${row.title}${row.name !== scenario.value && html`<button onClick=${() => turn(row.name)}>Look at it<span class="vh">: ${row.title}</span></button>`}${row.name === scenario.value && html`<small>shown on the pages</small>`}</th>
        ${columns.map((c) => html`<td key=${c.key}><${Cell} cell=${cellOf(row, c)} drawn=${row.drawn} most=${most(c)} limit=${c.entry} /></td>`)}</tr>`)}</tbody></table></div>
    <${Differences} rows=${rows.filter((r) => r.steps?.length > 1)} column=${columns[0]} />`
}

// Differences takes apart what a scenario does, where it changes several things. The
// steps add up to the difference and depend on no order.
function Differences({ rows, column }) {
  if (!rows.length || !column) return null
  const most = Math.max(...rows.flatMap((r) => r.steps.map((s) => Math.abs(s.by))))
  const named = (what) => { const line = home(what)?.row?.value; return line ? parted(line.label || words(what)).head : words(what.replace('.', ', ')) }
  return html`<section class="differences"><h2 class="head">What makes the difference</h2>
    ${rows.map((r) => html`<h3 key=${r.name}>${r.title}<small>${short(column.entry)}</small></h3>
      <dl>${r.steps.map((s) => html`<div key=${s.what}><dt>${named(s.what)}</dt><dd><b>${(s.by > 0 ? '+' : '') + show(s.by, column.entry.unit)}</b><i class=${s.by < 0 ? 'less' : ''} style=${{ width: Math.round(Math.abs(s.by) / (most || 1) * 100) + '%' }}></i></dd></div>`)}</dl>`)}</section>`
}

function Cell({ cell, drawn, most }) {
  if (!cell) return html`<i class="drawing"></i><span class="vh">being computed</span>`
  const { entry, lead, answer } = cell
  const [row] = entry.rows
  const limit = typeof entry.limit === 'number' ? { at: entry.limit, text: show(entry.limit, entry.unit).replace(/\.00$/, '') } : null
  return html`<b>${textOf(entry, row)}</b>${row.x === most && html`<span class="best">most</span>`}
    ${row.range ? html`${lead && limit && spread(row.range, row.x, limit)}<small>${band(row.range[0], row.range[1], entry.unit)}</small>` : !drawn ? html`<i class="drawing"></i>` : ''}
    ${lead && answer.verdict && html`<small>${answer.verdict}, ${answer.of20} in 20</small>`}`
}
