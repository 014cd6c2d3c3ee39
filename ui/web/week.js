// The focus week: one choice for the whole page. Every weekly line bears its value
// on the same string, so a week stands at the same place on all of them: the styles
// read it from --focus, --week and their plain numbers --at, --share on the root.
import { answers, book, home, valueOf } from './book.js'
import { chart } from './draw.js'
import { computed, effect, html, signal } from './html.js'
import { months, words } from './show.js'
import { collect, isWeekly } from './value.js'
import { Vines, vines } from './vines.js'

const DAY = 86_400_000 // ms

// monday gives the first day of a week named as ISO 8601 does: week 1 holds the
// year's first Thursday, so it holds 4 January.
function monday(name) {
  const [year, no] = name.split('-W').map(Number)
  const fourth = Date.UTC(year, 0, 4)
  return new Date(fourth - (new Date(fourth).getUTCDay() + 6) % 7 * DAY + (no - 1) * 7 * DAY)
}

export const weeks = computed(() => (book.value?.axes.week ?? []).map((name) => ({ name, no: name.slice(-2), monday: monday(name) })))
export const now = computed(() => book.value?.now ?? 0)

const chosen = signal(null) // the name of a week, or null: this week

export const focus = computed(() => {
  const at = weeks.value.findIndex((w) => w.name === chosen.value)
  return at >= 0 ? at : Math.min(now.value, Math.max(0, weeks.value.length - 1))
})

// choose makes a week the focus, by its place in the season.
export function choose(i) {
  const at = Math.max(0, Math.min(weeks.value.length - 1, i))
  chosen.value = at === now.value ? null : weeks.value[at]?.name ?? null
}

export const weekTag = (i) => 'W' + (weeks.value[i]?.no ?? '')

// spanText writes the days of a week: 8–14 Mar.
export function spanText(i) {
  const a = weeks.value[i]?.monday
  if (!a) return ''
  const b = new Date(+a + 6 * DAY)
  const day = (d) => `${d.getUTCDate()} ${months[d.getUTCMonth()]}`
  return a.getUTCMonth() === b.getUTCMonth() ? `${a.getUTCDate()}–${day(b)}` : `${day(a)} – ${day(b)}`
}

// whenText says how far a week is: this week, in 3 weeks, 2 weeks ago.
export function whenText(i) {
  const n = i - now.value
  if (n === 0) return 'this week'
  const many = Math.abs(n) === 1 ? '1 week' : `${Math.abs(n)} weeks`
  return n > 0 ? 'in ' + many : many + ' ago'
}

// hang keeps the string where the focus is, for the styles.
export function hang() {
  effect(() => {
    const n = weeks.value.length || 1
    const at = (focus.value + 0.5) / n
    const style = document.documentElement.style
    style.setProperty('--at', at)
    style.setProperty('--share', 1 / n)
    style.setProperty('--focus', at * 100 + '%')
    style.setProperty('--week', 100 / n + '%')
  })
  document.addEventListener('keydown', (e) => { if (e.target === document.body && !e.altKey && !e.ctrlKey && !e.metaKey) step(e) })
}

// step moves the focus by a key; used by the slider, and by the page when nothing
// else has the keys.
export function step(e) {
  const to = { ArrowLeft: focus.value - 1, ArrowRight: focus.value + 1, Home: now.value }[e.key]
  if (to === undefined || (e.key === 'Home' && e.target === document.body)) return
  e.preventDefault()
  choose(to)
}

// pick chooses the week under the pointer in a time field.
export function pick(e) {
  const box = e.currentTarget.getBoundingClientRect()
  choose(Math.floor((e.clientX - box.left) / box.width * weeks.value.length))
}

// daylight tints the ribbon: 0 in the darkest week, 1 in the lightest. It follows
// the height of the sun over the year and is no figure of the book; south of the
// equator it is turned round.
function daylight(date, south) {
  const turn = (date - Date.UTC(date.getUTCFullYear(), 5, 21)) / DAY / 365.25
  const height = (1 + Math.cos(2 * Math.PI * turn)) / 2
  return Math.round(100 * (south ? 1 - height : height)) / 100
}

const south = computed(() => {
  const settings = (book.value?.pages ?? []).flatMap((p) => p.blocks).find((b) => b.kind === 'settings')
  return settings?.rows.some((row) => /^\s*latitude\s*:\s*-/.test(row.value.text)) ?? false
})

// shown names the line that the ribbon bears: what the answer about prices leads with.
const shown = computed(() => answers.value.find((a) => a.key === 'charge')?.entries[0]?.name ?? '')

// standing says what a planting does in a week without a pick.
function standing(v, i) {
  if (v.sown === null || i + 1 <= v.sown) return 'not sown'
  if (v.out !== null && i + 1 <= v.out) return 'raised'
  if (v.cleared !== null && i >= v.cleared) return 'cleared'
  return v.first !== null && i < v.first ? 'growing' : 'no pick'
}

// Ribbon shows the season's weeks and lets one be chosen.
export function Ribbon() {
  const all = weeks.value
  if (!all.length) return null
  const i = focus.value
  const value = valueOf(shown.value).value
  const line = isWeekly(value) && value.cells.length ? collect(value) : null
  const label = home(shown.value)?.row?.value.label || words(shown.value)
  const text = `Week ${all[i].no}, ${spanText(i)}, ${whenText(i)}`
  const grown = vines(all, value)
  return html`<section class="ribbon" aria-label="Season" style=${{ '--lanes': grown.length }}>
    <div class="rib-side"><div class="rib-l"><strong>Week ${Number(all[i].no)}<small>${spanText(i)}, ${whenText(i)}</small></strong>
      <button class="step" aria-label="Week before" onClick=${() => choose(i - 1)}><svg class="i" aria-hidden="true"><use href="#i-back" /></svg></button>
      <button class="step" aria-label="Week after" onClick=${() => choose(i + 1)}><svg class="i" aria-hidden="true"><use href="#i-chev" /></svg></button></div>
      ${grown.length > 0 && html`<ul class="rib-names">${grown.map((v) => html`<li key=${v.member}>${v.label}<span class="vh">: ${v.says}</span></li>`)}</ul>`}</div>
    <div class="time" id="season" role="slider" tabindex="0" aria-label="Focus week" aria-valuemin="0" aria-valuemax=${all.length - 1} aria-valuenow=${i}
      aria-valuetext=${text} onKeyDown=${step} onClick=${pick}>
      <${Ground} />
      <div class="rib-week"></div>
      ${grown.length > 0 && html`<${Vines} vines=${grown} weeks=${all.length} now=${now.value} />`}
      ${line && html`<div class="rib-line">${chart({ ...line, now: now.value, fan: true, label: label + ', week by week' })}<i class="knot" hidden=${!line.known(i)} style=${{ top: line.known(i) ? line.at(i, true) : '0' }}></i></div>`}
      <div class="string"></div>
      <i class="now" hidden=${i === now.value} style=${{ left: (now.value + 0.5) / all.length * 100 + '%' }}></i>
      <span class="tag">${weekTag(i)}</span>
    </div>
    <div class="rib-r">${grown.length > 0 && html`<ul class="rib-picks">${grown.map((v) => html`<li key=${v.member}><span class="vh">${v.label}: </span>${v.pick?.known(i) && v.cells[i] > 0 ? html`<b>${v.pick.text(i)}</b>` : html`<span>${standing(v, i)}</span>`}</li>`)}</ul>`}${line && html`<b>${line.text(i)}</b><small>${label}${line.band(i) && html`<br />${line.band(i)}`}</small>`}</div>
  </section>`
}

// Ground is the light over the season with its months and week numbers; it does
// not change with the focus.
function Ground() {
  const all = weeks.value
  const n = all.length
  const monthOf = (w) => new Date(+w.monday + 3 * DAY) // a week belongs to the month of its Thursday
  const starts = all.map((w, i) => ({ w: monthOf(w), i })).filter(({ w, i }) => i === 0 || w.getUTCMonth() !== monthOf(all[i - 1]).getUTCMonth())
  const length = (k) => (starts[k + 1]?.i ?? n) - starts[k].i
  const first = starts.findIndex((_, k) => length(k) > 4) // the first month with room for its year
  const dated = (w, k) => w.getUTCMonth() === 0 || k === first
  return html`<svg class="light" viewBox=${`0 0 ${n} 1`} preserveAspectRatio="none" aria-hidden="true">
      ${all.map((w, i) => html`<rect x=${i} width="1.03" height="1" fill-opacity=${daylight(w.monday, south.value)} />`)}</svg>
    <div class="rib-months" aria-hidden="true">${starts.map(({ w, i }, k) => html`<span style=${{ left: i / n * 100 + '%' }}>${months[w.getUTCMonth()]}${dated(w, k) ? html`<em> ${w.getUTCFullYear()}</em>` : ''}</span>`)}</div>
    <div class="rib-weeks" aria-hidden="true">${all.map((w, i) => html`<span class=${i % 4 === 0 ? 'w4' : i % 2 === 0 ? 'w2' : 'w1'}>${w.no}</span>`)}</div>`
}
