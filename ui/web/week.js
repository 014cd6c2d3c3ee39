// The focus week: one choice for the whole page. Every weekly line bears its value
// on the same string, so a week stands at the same place on all of them: the styles
// read it from --focus, --week and their plain numbers --at, --share on the root.
//
// All time fields show the same weeks: from the first sowing to the last clearing,
// or all that the book has (span). Where a week stands in them is said here once.
import { book, valueOf } from './book.js'
import { computed, effect, signal } from './html.js'
import { months } from './show.js'

export const DAY = 86_400_000 // ms

// monday gives the first day of a week named as ISO 8601 does: week 1 holds the
// year's first Thursday, so it holds 4 January.
function monday(name) {
  const [year, no] = name.split('-W').map(Number)
  const fourth = Date.UTC(year, 0, 4)
  return new Date(fourth - (new Date(fourth).getUTCDay() + 6) % 7 * DAY + (no - 1) * 7 * DAY)
}

export const weeks = computed(() => (book.value?.axes.week ?? []).map((name) => ({ name, no: name.slice(-2), monday: monday(name) })))
export const now = computed(() => book.value?.now ?? 0)

// plantings names the list whose members are sown and cleared; '' when there is none.
export const plantings = computed(() => {
  const all = (book.value?.pages ?? []).flatMap((p) => p.blocks).filter((b) => b.kind === 'list')
  return all.find((b) => ['sown', 'cleared'].every((c) => valueOf(`${b.name}.${c}`).value?.kind === 'date'))?.name ?? ''
})

// placeOf gives where a day stands, in weeks from the start of the book's season.
export const placeOf = (day) => (day && weeks.value.length ? (Date.parse(day) - weeks.value[0].monday) / DAY / 7 : null)

const FEWEST = 12 // weeks that are worth a field of their own

const days = (column) => (valueOf(`${plantings.value}.${column}`).value?.cells ?? []).map(placeOf).filter((x) => x !== null)
const sowing = computed(() => Math.max(0, Math.min(now.value, Math.floor(Math.min(...days('sown'))))))
const clearing = computed(() => Math.min(weeks.value.length, Math.max(now.value, Math.floor(Math.max(...days('cleared'))) + 1) + 1))
const bounded = computed(() => plantings.value !== '' && days('sown').length > 0 && days('cleared').length > 0 && clearing.value - sowing.value >= FEWEST)

// whole: all weeks of the book are wanted, not only those with plants.
export const whole = signal(false)
// beyond counts the weeks that lie before the first sowing and after the last clearing.
export const beyond = computed(() => (bounded.value ? sowing.value + weeks.value.length - clearing.value : 0))

// span gives the weeks that are shown: from the first up to, without, to.
export const span = computed(() => (bounded.value && !whole.value ? { from: sowing.value, to: clearing.value } : { from: 0, to: Math.max(1, weeks.value.length) }))

// across gives where a place in the season stands in every time field, in per cent;
// a week's own place is its middle, i + 0.5.
export const across = (place) => (place - span.value.from) / (span.value.to - span.value.from) * 100

export const inSpan = (i) => i >= span.value.from && i < span.value.to

const chosen = signal(null) // the name of a week, or null: this week

export const focus = computed(() => {
  const at = weeks.value.findIndex((w) => w.name === chosen.value)
  return at >= 0 ? at : Math.min(now.value, Math.max(0, weeks.value.length - 1))
})

// choose makes a week the focus, by its place in the season. One that is not shown
// brings the rest of the year with it.
export function choose(i) {
  const at = Math.max(0, Math.min(weeks.value.length - 1, i))
  if (at < span.value.from || at >= span.value.to) whole.value = true
  chosen.value = at === now.value ? null : weeks.value[at]?.name ?? null
}

// showWhole shows all weeks of the book, or only those with plants.
export function showWhole(all) {
  whole.value = all
  if (focus.value < span.value.from || focus.value >= span.value.to) chosen.value = null
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
    const { from, to } = span.value
    const style = document.documentElement.style
    style.setProperty('--at', across(focus.value + 0.5) / 100)
    style.setProperty('--share', 1 / (to - from))
    style.setProperty('--weeks', to - from)
    style.setProperty('--focus', across(focus.value + 0.5) + '%')
    style.setProperty('--week', 100 / (to - from) + '%')
  })
  document.addEventListener('keydown', (e) => { if (e.target === document.body && !e.altKey && !e.ctrlKey && !e.metaKey) step(e) })
}

const MONTH = 4 // weeks, for the keys that leap

// step moves the focus by a key; used by the slider, and by the page when nothing
// else has the keys.
export function step(e) {
  const body = e.target === document.body
  const to = { ArrowLeft: focus.value - 1, ArrowRight: focus.value + 1, ...(!body && { Home: now.value, PageUp: focus.value - MONTH, PageDown: focus.value + MONTH }) }[e.key]
  if (to === undefined) return
  e.preventDefault()
  choose(to)
}

// pick chooses the week under the pointer in a time field.
export function pick(e) {
  const box = e.currentTarget.getBoundingClientRect()
  const { from, to } = span.value
  choose(Math.min(to - 1, from + Math.floor((e.clientX - box.left) / box.width * (to - from))))
}
