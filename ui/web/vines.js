// The plantings on the ribbon, each a vine: dots while it is raised, a wedge from
// setting out that grows until the first pick, fruit for every week that bears, as
// large in area as that week's pick, and three ticks where the house is cleared.
import { book, labelOf, valueOf } from './book.js'
import { html } from './html.js'
import { dateText } from './show.js'
import { collect, part } from './value.js'

const DAY = 86_400_000 // ms

// list gives the list whose members are sown and cleared; null when there is none.
function list() {
  const all = (book.value?.pages ?? []).flatMap((p) => p.blocks).filter((b) => b.kind === 'list')
  return all.find((b) => ['sown', 'cleared'].every((c) => valueOf(`${b.name}.${c}`).value?.kind === 'date'))?.name ?? null
}

// vines gives one vine for each planting: where it stands in the season, in weeks
// from its start, and its picks. value is the weekly line that the ribbon bears.
export function vines(weeks, value) {
  const name = list()
  if (!name || !weeks.length) return []
  const days = (column) => valueOf(`${name}.${column}`).value?.cells ?? []
  const at = (day) => (day ? (Date.parse(day) - weeks[0].monday) / DAY / 7 : null)
  const picks = value?.axes?.length === 2 && value.axes[0] === name ? collect(value).parts : []
  const most = Math.max(0, ...picks.flatMap((p) => p.cells).filter((x) => typeof x === 'number'))
  return (book.value.axes[name] ?? []).map((member, i) => {
    const cells = picks[i]?.cells ?? []
    const first = cells.findIndex((x) => x > 0)
    return {
      member, label: labelOf(name, member), cells, most, fruit: fruitOf(valueOf(`${name}.crop`).value?.cells[i]),
      sown: at(days('sown')[i]), out: at(days('set_out')[i] ?? days('sown')[i]), cleared: at(days('cleared')[i]), first: first < 0 ? null : first,
      pick: picks[i] ? collect(part(value, picks[i])) : null,
      says: `sown ${dateText(days('sown')[i] ?? '')}, cleared ${dateText(days('cleared')[i] ?? '')}`,
    }
  })
}

// fruitOf gives the shape and colour of a crop's fruit: those that have one of
// their own, or the tomato's.
const fruitOf = (crop) => (['cucumber', 'pepper'].includes(crop) ? crop : 'tomato')

const r = (x) => Math.round(x * 100) / 100

// Vines draws them, one below the other, in weeks across.
export function Vines({ vines: all, weeks, now }) {
  const high = 100 / all.length
  return html`<svg class="vines" viewBox=${`0 0 ${weeks} 100`} preserveAspectRatio="none" aria-hidden="true">
    ${all.map((v, k) => {
      const y = r((k + 0.5) * high)
      const end = Math.min(weeks, v.cleared ?? weeks)
      const bears = v.first ?? end
      const thick = high * 0.11
      return html`<g key=${v.member}>
        ${v.sown !== null && html`<path class="raised" d=${raising(Math.max(0, v.sown), v.out ?? end, y)} />`}
        ${v.out !== null && html`<path class="grown" d=${`M${r(v.out)} ${r(y - thick * 0.25)}L${r(bears)} ${r(y - thick)}V${r(y + thick)}L${r(v.out)} ${r(y + thick * 0.25)}Z`} />
          <path class="stem" d=${`M${r(Math.min(bears, end))} ${y}H${r(end)}`} />`}
        ${v.cells.map((x, i) => (x > 0 && v.most > 0 ? html`<path class=${'fruit ' + v.fruit + (i < now ? ' done' : '')} style=${{ '--size': r(Math.sqrt(x / v.most)) }} d=${`M${i + 0.5} ${y}h0`} />` : null))}
        ${v.cleared !== null && v.cleared <= weeks && html`<path class="ticks" d=${[0.15, 0.4, 0.65].map((x, j) => `M${r(v.cleared + x)} ${r(y - thick * (3 - j))}V${r(y + thick * (3 - j))}`).join('')} />`}
      </g>`
    })}</svg>`
}

function raising(from, to, y) {
  let d = ''
  for (let x = from; x < to; x += 0.5) d += `M${r(x)} ${y}h0`
  return d
}
