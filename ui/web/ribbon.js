// The season at a glance, above every page: the light of its weeks, the plantings as
// vines, and what there is to pick with its band. The week that the page speaks of
// is chosen here; weekly lines below share this time field (week.js).
import { answers, book, home, planOf, valueOf } from './book.js'
import { chart, gridlines } from './draw.js'
import { computed, effect, html, icon } from './html.js'
import { figure, months, show, words } from './show.js'
import { collect, isWeekly } from './value.js'
import { inHabit } from './units.js'
import { Lane, Vines, stateOf, vines } from './vines.js'
import { DAY, across, beyond, choose, focus, now, pick, plantings, showWhole, span, spanText, step, weeks, weekTag, whenText, whole } from './week.js'

// daylight tints the ribbon: 0 in the darkest week, 1 in the lightest. It follows
// the height of the sun over the year and is no figure of the book; south of the
// equator it is turned round.
function daylight(date, south) {
  const turn = (date - Date.UTC(date.getUTCFullYear(), 5, 21)) / DAY / 365.25
  const height = (1 + Math.cos(2 * Math.PI * turn)) / 2
  return Math.round(100 * (south ? 1 - height : height)) / 100
}

const blocks = computed(() => (book.value?.pages ?? []).flatMap((p) => p.blocks))

const south = computed(() => blocks.value.some((b) => b.kind === 'settings' && b.rows.some((row) => /^\s*latitude\s*:\s*-/.test(row.value.text))))

// picked names the line that the vines bear: what the answer about prices leads with.
const picked = computed(() => answers.value.find((a) => a.key === 'charge')?.entries[0]?.name ?? '')

// Bands of members do not add up to the band of their sum. So the fan is a line that
// runs over weeks alone: one that a chart of kind "fan" names, or the total of what
// the vines bear. Without one it is that itself, put together, and has no band.
const alone = (name) => { const v = valueOf(name).value; return v?.axes?.length === 1 && isWeekly(v) }
const total = computed(() => {
  const fans = blocks.value.filter((b) => b.kind === 'chart').map((b) => Object.fromEntries(b.rows.map((r) => r.value.text.split('//')[0].split(':').map((s) => s.trim())).filter((p) => p.length === 2))).filter((c) => c.kind === 'fan')
  return fans.flatMap((c) => (c.lines ?? '').split(',').map((s) => s.trim())).find(alone) ?? totalOf(picked.value) ?? picked.value
})

// totalOf finds the line that is total(X) or total(X, list), X being the line that is
// named or the only one that it is made of.
function totalOf(name) {
  const made = home(name)?.row?.value.reads ?? []
  const all = made.length === 1 ? [name, made[0]] : [name]
  return blocks.value.flatMap((b) => b.rows).map((row) => row.peek()).find((row) => {
    const m = /^total\(\s*(\w+)\s*(?:,[\s\w,]*)?\)$/.exec(row.written ?? '')
    return m && all.includes(m[1]) && alone(row.name)
  })?.name
}

// sky names the lines that say what a week is like outside, by their units: hours of
// a day, sun or light a day, temperature. Each runs over the weeks alone; of several
// it is the one that most others are made of.
const sky = computed(() => {
  const rows = blocks.value.filter((b) => b.kind === 'lines').flatMap((b) => b.rows).map((row) => row.peek())
  const users = (name) => rows.filter((r) => r.reads?.includes(name)).length
  const found = { day: [], sun: [], air: [] }
  for (const { name, kind } of rows) {
    const v = kind === 'line' && valueOf(name).peek()
    if (!v || v.kind !== 'number' || v.axes.length !== 1 || !isWeekly(v)) continue
    if (v.unit === 'h' && v.gather === 'mean') found.day.push(name)
    if (/^(MJ|mol|kWh)\/m2\/d$/.test(v.unit)) found.sun.push(name)
    if (/^deg[FC]$/.test(v.unit)) found.air.push(name)
  }
  const most = (names) => names.map((name) => [users(name), name]).sort((a, b) => b[0] - a[0]).map(([, name]) => name)
  return { day: most(found.day)[0], sun: most(found.sun)[0], air: most(found.air).slice(0, 2) }
})

function Sky() {
  const i = focus.value
  const at = (name) => { const v = valueOf(name).value; return v && typeof v.cells[i] === 'number' ? { x: v.cells[i], unit: v.unit } : null }
  const day = sky.value.day && at(sky.value.day), sun = sky.value.sun && at(sky.value.sun)
  const air = sky.value.air.map(at).filter(Boolean).sort((a, b) => a.x - b.x)
  const hours = day && `${Math.floor(day.x)} h ${String(Math.floor(day.x % 1 * 60)).padStart(2, '0')} of day`
  const light = sun && `sun ${show(sun.x, sun.unit)}`
  const temperature = air.length > 1 ? `outside ${figure(Math.round(air[0].x), air[0].unit).number.replace(/\.\d+$/, '')} to ${whole0(air.at(-1))}` : air.length ? `outside ${whole0(air[0])}` : ''
  return html`<p class="rib-sky">${[[hours, temperature].filter(Boolean).join(', '), light].filter(Boolean).map((text) => html`<span>${text}</span>`)}</p>`
}

// whole0 writes a temperature without its decimals.
const whole0 = ({ x, unit }) => { const f = figure(x, unit); return f.number.replace(/\.\d+$/, '') + f.unit }

// The room that the vines take is said to the whole page: when it has scrolled they
// give way, and what they took is kept below the ribbon.
effect(() => document.documentElement.style.setProperty('--lanes', plantings.value ? book.value?.axes[plantings.value]?.length ?? 0 : 0))

// Ribbon shows the season's weeks and lets one be chosen.
export function Ribbon() {
  const all = weeks.value
  if (!all.length) return null
  const i = focus.value
  const { from, to } = span.value
  const grown = vines(valueOf(picked.value).value)
  const value = valueOf(total.value).value
  const line = isWeekly(value) && value.cells.length ? collect(value) : null
  const label = home(total.value)?.row?.value.label || words(total.value)
  const text = `Week ${all[i].no}, ${spanText(i)}, ${whenText(i)}`
  const fan = line && line.rows.length === 1
  return html`<section class="ribbon" aria-label="Season" style=${{ '--fan': line ? 1 : 0 }}>
    <div class="rib-side"><div class="rib-l"><strong>Week ${Number(all[i].no)}<small>${spanText(i)}, ${whenText(i)}</small></strong>
      <button class="step" aria-label="Week before" onClick=${() => choose(i - 1)}>${icon('back')}</button>
      <button class="step" aria-label="Week after" onClick=${() => choose(i + 1)}>${icon('chev')}</button></div>
      ${grown.length > 0 && html`<ul class="rib-names">${grown.map((v) => html`<li key=${v.member}>${v.label}<span class="vh">: ${v.says}</span></li>`)}</ul>`}
      <div class="rib-fan">${line && html`<b>${label}</b>${fan && line.low && html`<small>dots are recorded; the band holds 8 winters in 10</small>`}`}<${Reach} /></div></div>
    <div class="time" id="season" role="slider" tabindex="0" aria-label="Focus week" aria-valuemin=${from} aria-valuemax=${to - 1} aria-valuenow=${i}
      aria-valuetext=${text} onKeyDown=${step} onClick=${pick}>
      <${Ground} />
      <div class="rib-week"></div>
      <${Numbers} />
      ${grown.length > 0 && html`<${Vines} vines=${grown} />`}
      ${line && html`<div class="rib-line">${fan && html`<${Grid} line=${line} unit=${value.unit} />`}
        ${chart({ ...line, beside: planRow(total.value), now: now.value, fan: true, label: label + ', week by week' })}<i class="knot" hidden=${!line.known(i)} style=${{ top: line.known(i) ? line.at(i, true) : '0' }}></i></div>`}
      <div class="string"></div>
      <i class="now" hidden=${i === now.value || now.value < from || now.value >= to} style=${{ left: across(now.value + 0.5) + '%' }}></i>
      <span class="tag">${weekTag(i)}</span>
    </div>
    <div class="rib-r"><${Sky} />${grown.length > 0 && html`<ul class="rib-picks">${grown.map((v) => html`<li key=${v.member}><span class="vh">${v.label}: </span><${Lane} state=${stateOf(v, i)} /></li>`)}</ul>`}${line && html`<div class="rib-total"><b>${line.text(i)}</b><small>${[line.band(i), line.season() && 'season ' + line.season()].filter(Boolean).map((t) => html`<span>${t}</span>`)}</small></div>`}</div>
  </section>`
}

// planRow gives the row of the plan, where what is looked at says otherwise.
function planRow(name) {
  const value = planOf(name)
  return value?.cells?.length ? collect(value).rows[0] : null
}

// Reach shows the weeks before the first sowing and after the last clearing, or
// leaves them out.
function Reach() {
  if (!beyond.value) return null
  return html`<button class="reach" aria-pressed=${whole.value ? 'true' : 'false'} onClick=${() => showWhole(!whole.value)}>${whole.value ? 'Only the weeks with plants' : `All ${weeks.value.length} weeks`}</button>`
}

// Grid writes the scale of the fan at its left edge.
function Grid({ line, unit }) {
  const scale = line.scale(true)
  const mul = inHabit(scale.high, unit).x / scale.high || 1 // round numbers are those of this viewer's unit
  return gridlines({ low: scale.low * mul, high: scale.high * mul }).map((x) => x / mul).reverse().map((x, k) => html`<span class="rib-grid" aria-hidden="true" key=${x} style=${{ top: scale.y(x) + '%' }}>${k ? figure(x, unit).number : `${show(x, unit)} a week`}</span>`)
}

const byMonth = (w) => new Date(+w.monday + 3 * DAY) // a week belongs to the month of its Thursday

// Ground is the light over the season with its months; it does not change with the focus.
function Ground() {
  const { from, to } = span.value
  const all = weeks.value.slice(from, to)
  const n = all.length
  const starts = all.map((w, i) => ({ w: byMonth(w), i })).filter(({ w, i }) => i === 0 || w.getUTCMonth() !== byMonth(all[i - 1]).getUTCMonth())
  const length = (k) => (starts[k + 1]?.i ?? n) - starts[k].i
  const first = starts.findIndex((_, k) => length(k) >= 4) // the first month with room for its year
  const dated = (w, k) => w.getUTCMonth() === 0 || k === first
  return html`<svg class="light" viewBox=${`0 0 ${n} 1`} preserveAspectRatio="none" aria-hidden="true">
      ${all.map((w, i) => html`<rect x=${i} width="1.03" height="1" fill-opacity=${daylight(w.monday, south.value)} />`)}</svg>
    <div class="rib-months" aria-hidden="true">${starts.map(({ w, i }, k) => html`<span style=${{ left: i / n * 100 + '%' }}>${length(k) > 1 ? months[w.getUTCMonth()] : ''}${dated(w, k) ? html`<em> ${w.getUTCFullYear()}</em>` : ''}</span>`)}</div>`
}

// Numbers writes the numbers of the weeks; next to the tag of the string they give way.
function Numbers() {
  const { from, to } = span.value
  const i = focus.value
  const few = to - from <= 42
  return html`<div class=${'rib-weeks' + (few ? ' few' : '')} aria-hidden="true">${weeks.value.slice(from, to).map((w, k) => html`<span class=${(k % 4 === 0 ? 'w4' : k % 2 === 0 ? 'w2' : 'w1') + (Math.abs(from + k - i) < (few ? 2 : 3) ? ' near' : '')}>${w.no}</span>`)}</div>`
}
