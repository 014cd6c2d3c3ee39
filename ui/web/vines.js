// The plantings on the ribbon, each a vine: dots while it is raised, a wedge from
// setting out that grows until the first pick, fruit for every week that bears, as
// large in area as that week's pick and in the shape of its crop, and three ticks
// where the house is cleared.
import { book, labelOf, valueOf } from './book.js'
import { html } from './html.js'
import { dateText } from './show.js'
import { collect, part } from './value.js'
import { across, now, placeOf, plantings, span } from './week.js'

// vines gives one vine for each planting: where it stands in the season, in weeks
// from its start, and its picks. value is the weekly line that the vines bear.
export function vines(value) {
  const name = plantings.value
  if (!name) return []
  const days = (column) => valueOf(`${name}.${column}`).value?.cells ?? []
  const picks = value?.axes?.length === 2 && value.axes[0] === name && value.axes[1] === 'week' ? collect(value).parts : []
  return (book.value.axes[name] ?? []).map((member, i) => {
    const cells = picks[i]?.cells ?? []
    const first = cells.findIndex((x) => x > 0)
    return {
      member, label: labelOf(name, member), cells, most: Math.max(0, ...cells.filter((x) => typeof x === 'number')), fruit: fruitOf(valueOf(`${name}.crop`).value?.cells[i]),
      sown: placeOf(days('sown')[i]), out: placeOf(days('set_out')[i] ?? days('sown')[i]), cleared: placeOf(days('cleared')[i]), first: first < 0 ? null : first,
      pick: picks[i] ? collect(part(value, picks[i])) : null,
      says: `sown ${dateText(days('sown')[i] ?? '')}, cleared ${dateText(days('cleared')[i] ?? '')}`,
    }
  })
}

// fruitOf gives the shape and colour of a crop's fruit: those that have one of
// their own, or the tomato's.
const fruitOf = (crop) => (['cucumber', 'pepper'].includes(crop) ? crop : 'tomato')

// stateOf says what a planting does in a week: { text, amount } with the picked
// amount apart, or { text, week } with how many weeks it has been at it.
export function stateOf(v, i) {
  if (v.pick?.known(i) && v.cells[i] > 0) return { text: 'picking', amount: v.pick.text(i), band: v.pick.band(i) }
  const since = (place) => i - Math.floor(place) + 1
  if (v.sown === null || i + 1 <= v.sown) return { text: 'not sown yet' }
  if (v.cleared !== null && i >= v.cleared) return { text: 'cleared' }
  if (v.out !== null && i + 1 <= v.out) return { text: 'raising', week: since(v.sown) }
  return v.first !== null && i < v.first ? { text: 'planted', week: since(v.out ?? v.sown) } : { text: 'no pick' }
}

export const Lane = ({ state: { text, amount, week } }) => html`<span>${text}${week ? `, week ${week}` : ''}${amount ? ', ' : ''}</span>${amount && html`<b>${amount}</b>`}`

const LANE = 19 // px from one vine to the next, as in the styles

const r = (x) => Math.round(x * 100) / 100

const shapes = {
  tomato: html`<circle cx="10" cy="10" r="9" />`,
  cucumber: html`<rect x="5" y="1" width="10" height="18" rx="5" />`,
  pepper: html`<path d="M1.500 3.500h17L10 18.500Z" />`,
}

// Vines draws them, one below the other, in weeks across. Stems are one stretched
// drawing; a fruit keeps its shape, and is as wide as its week leaves room for.
export function Vines({ vines: all }) {
  const { from, to } = span.value
  const inside = (i) => i >= from && i < to
  return html`<svg class="vines" viewBox=${`${from} 0 ${to - from} ${all.length * LANE}`} preserveAspectRatio="none" aria-hidden="true">
    ${all.map((v, k) => {
      const y = (k + 0.5) * LANE
      const end = Math.min(to, v.cleared ?? to)
      const bears = v.first ?? end
      return html`<g key=${v.member}>
        ${v.sown !== null && html`<path class="raised" d=${raising(Math.max(from, v.sown), v.out ?? end, y)} />`}
        ${v.out !== null && html`<path class="grown" d=${`M${r(v.out)} ${r(y - 0.8)}L${r(bears)} ${r(y - 2.6)}V${r(y + 2.6)}L${r(v.out)} ${r(y + 0.8)}Z`} />
          <path class="stem" d=${`M${r(Math.min(bears, end))} ${y}H${r(end)}`} />`}
        ${v.cleared !== null && v.cleared < to && html`<path class="ticks" d=${[0.2, 0.38, 0.56].map((x, j) => `M${r(v.cleared + x)} ${r(y - 2 * (3 - j))}V${r(y + 2 * (3 - j))}`).join('')} />`}
      </g>`
    })}</svg>
    <div class="fruits" aria-hidden="true">${all.map((v, k) => v.cells.map((x, i) => (x > 0 && inside(i)
      ? html`<svg key=${v.member + i} class=${`fruit ${v.fruit}${i < now.value ? ' done' : ''}`} viewBox="0 0 20 20" style=${{ left: r(across(i + 0.5)) + '%', top: (k + 0.5) * LANE + 'px', '--size': r(Math.sqrt(x / v.most)) }}>${shapes[v.fruit]}</svg>`
      : null)))}</div>`
}

function raising(from, to, y) {
  let d = ''
  for (let x = from + 0.25; x < to; x += 0.5) d += `M${r(x)} ${y}h0`
  return d
}
