// The book as this page has it: a snapshot and the changes after it, in order.
// Every row and every value is a signal of its own, so that a change wakes only
// the lines it speaks of.
import { batch, signal } from './html.js'
import { learn } from './units.js'

export const book = signal(null) // title, pages, axes, labels; its rows are signals
export const answers = signal([])
export const number = signal(0) // of the last change taken
export const bands = signal('drawing') // done when the draws of that number have come
export const cautions = signal([]) // the book's warnings that fire, of the last draws
export const undo = signal('') // what this page's next undo would take back
export const here = signal(1) // pages that have the book open, this one too
export const news = signal(null) // the last change of someone else: { what, number }

export const scenario = signal('') // that this page looks at; '' is the plan
export const planAnswers = signal([])

let boot = ''
let planBands = 'drawing'
const plan = new Map() // name -> what the plan says of a line that the scenario shows otherwise
const values = new Map() // name -> signal of its value or null
const before = new Map() // name -> signal of the value before someone else's change, for a while
const rows = new Map() // part -> signal of its row
const homes = new Map() // name of a line -> { page, row } where it stands

export const bootOf = () => boot
const held = (map, key) => map.get(key) ?? map.set(key, signal(null)).get(key)

// valueOf gives the signal of a line's value, also of one that is not there yet.
export const valueOf = (name) => held(values, name)
export const beforeOf = (name) => held(before, name)

// What the plan says of a line, whatever is looked at; planOf for what a scenario
// shows otherwise only. A change is always one of the plan.
const ofPlan = (name) => (plan.has(name) ? plan.get(name) : valueOf(name).peek())
export const planOf = (name) => { valueOf(name).value; return plan.get(name) ?? null }
function put(name, value) {
  if (plan.has(name)) plan.set(name, value)
  else valueOf(name).value = value
}

function drawn(state) {
  planBands = state
  if (!scenario.peek()) bands.value = state
}

// names gives every name that has a value.
export const names = () => [...values].filter(([, v]) => v.peek()).map(([name]) => name)

// home gives the page and the row where a line stands; a list's column is at home
// with its list.
export const home = (name) => homes.get(name) ?? homes.get(name.split('.')[0]) ?? null

// labelOf gives the shown name of a member, a month or a week.
export const labelOf = (axis, member) => book.value?.labels?.[axis]?.[member] || member

// apply takes a message of the server into the book; false when one is missing
// between it and what the page has. me is this page's own name.
export function apply(message, me) {
  return batch(() => {
    if (message.values) unseen()
    switch (message.type) {
      case 'snapshot':
        boot = message.boot
        number.value = message.number
        plain()
        for (const [name, value] of values) if (!message.values?.[name]) value.value = null
        take(message, false)
        undo.value = message.undo ?? ''
        drawn('drawing')
        return true
      case 'resumed':
        if (message.number !== number.peek()) return false
        undo.value = message.undo ?? ''
        return true
      case 'change':
        if (message.number <= number.peek()) return true // had it already
        if (message.number !== number.peek() + 1 || !Object.entries(message.values ?? {}).every(whole)) return false
        number.value = message.number
        take(message, message.by !== me)
        drawn('drawing')
        if (message.by !== me) news.value = { what: message.what ?? 'changed the book', number: message.number }
        return true
      case 'bands':
        if (message.number !== number.peek()) return true // of an older book
        for (const [name, value] of Object.entries(message.values ?? {})) {
          const own = ofPlan(name)
          value.cells ??= own?.cells ?? []
          value.season ??= own?.season
        }
        take(message, false)
        drawn('done')
        cautions.value = message.cautions ?? []
        return true
      case 'here':
        here.value = message.here
        return true
      case 'ack':
        undo.value = message.undo ?? ''
        return true
    }
    return true
  })
}

// whole puts the cells that moved among those that the page has; false when it has none.
function whole([name, value]) {
  if (!value?.moved) return true
  const cells = ofPlan(name)?.cells?.slice()
  if (!cells) return false
  for (const [from, ...run] of value.moved) run.forEach((x, i) => { cells[from + i] = x })
  value.cells = cells
  return true
}

function take(message, others) {
  learn(message.units)
  if (message.book) takeBook(message.book)
  for (const row of message.rows ?? []) {
    const here = rows.get(row.part)
    if (!here) continue
    const good = here.peek().fault ? here.peek().good : here.peek().text // what stood there last that worked
    here.value = row.fault && !row.fault.waits ? { ...row, good } : row
  }
  for (const [name, value] of Object.entries(message.values ?? {})) {
    const old = ofPlan(name)
    if (message.type === 'change' && value && old?.low) value.waits = true // its band is being drawn again
    if (message.type === 'change' && value?.stale) value.since = old?.since ?? Date.now()
    const show = () => {
      if (others && old && value) remember(name, old)
      if (!same(old, value)) put(name, value)
    }
    if (message.type !== 'snapshot' && !inSight(name)) later.push(show)
    else show()
  }
  if (message.type === 'bands') for (const name of values.keys()) if (ofPlan(name)?.waits && !message.values?.[name]) put(name, { ...ofPlan(name), waits: false })
  if (message.answers) {
    planAnswers.value = message.answers.map((a) => answered(a, planAnswers.peek().find((b) => b.key === a.key)))
    if (!scenario.peek()) answers.value = planAnswers.peek()
  }
}

let later = [] // what shows the new values of lines that stand out of sight

// inSight says whether a line's new value is to be shown at once. What has no place of
// its own on the page, as a line that a picture is made of, may be anywhere.
function inSight(name) {
  const place = document.getElementById('line-' + name)?.getBoundingClientRect()
  return !place || (place.bottom > 0 && place.top < innerHeight)
}

// unseen shows what was left for later, so that nobody waits for what nobody sees: the
// wire calls it when the rest is painted, and the next message before it is taken.
export function unseen() {
  const all = later
  later = []
  batch(() => { for (const show of all) show() })
}

// plain shows what the plan says of the lines named, or of all.
function plain(names = [...plan.keys()]) {
  for (const name of names) {
    const value = plan.get(name)
    plan.delete(name)
    valueOf(name).value = value
  }
}

// look shows a scenario from now on, '' the plan. What it comes to, the server says (see).
export function look(name) {
  batch(() => {
    scenario.value = name
    bands.value = name ? 'drawing' : planBands
    if (!name) {
      plain()
      answers.value = planAnswers.peek()
    }
  })
}

// see takes in what the scenario comes to that this page looks at: of each line what
// it says otherwise than the plan. Without draws yet, bands are left as they are.
export function see(message) {
  if (message.scenario !== scenario.peek() || message.number !== number.peek()) return
  unseen()
  learn(message.units)
  batch(() => {
    const says = message.values ?? {}
    plain([...plan.keys()].filter((name) => !(name in says)))
    for (const [name, value] of Object.entries(says)) {
      const own = ofPlan(name)
      if (message.draws ? same(own, value) : alike(own, value)) { plain(plan.has(name) ? [name] : []); continue }
      if (!plan.has(name)) plan.set(name, own)
      if (!message.draws && own?.low) value.waits = true
      valueOf(name).value = value
    }
    if (message.answers) answers.value = message.answers.map((a) => answered(a, answers.peek().find((b) => b.key === a.key)))
    bands.value = message.draws ? 'done' : 'drawing'
  })
}

const alike = (a, b) => a?.cells?.length === b?.cells?.length && (a?.cells ?? []).every((x, i) => x === b.cells[i])

// answered keeps of the answer before what the new one cannot say: all of it when a
// line is in error, marked stale; and where a band is being drawn again.
function answered(a, old) {
  if (!old) return a
  if (a.fault && !a.entries.some((e) => e.rows.length)) return { ...old, fault: a.fault, stale: true }
  for (const e of a.entries) {
    const rows = old.entries.find((x) => x.label === e.label)?.rows ?? []
    e.rows.forEach((row, i) => { row.waits = !row.band && Boolean(rows[i]?.band || rows[i]?.waits) })
  }
  return a
}

// same says whether two values read alike: draws that come back as they were wake
// nobody.
function same(a, b) {
  if (!a || !b || a.waits || a.stale || b.stale || a.fault || b.fault || a.unit !== b.unit) return false
  return ['cells', 'low', 'high', 'inner_low', 'inner_high', 'odds'].every((k) => a[k]?.length === b[k]?.length && (a[k] ?? []).every((x, i) => x === b[k][i]))
}

function takeBook(text) {
  rows.clear()
  homes.clear()
  for (const page of text.pages) {
    for (const block of page.blocks) {
      block.rows = (block.rows ?? []).map((row) => {
        const it = signal(row)
        rows.set(row.part, it)
        if (row.kind === 'line' && row.name && !homes.has(row.name)) homes.set(row.name, { page, row: it })
        return it
      })
      if (block.name) homes.set(block.name, { page, row: null })
    }
  }
  book.value = text
}

const SIX_SECONDS = 6000

// remember keeps the value that someone else replaced, to be shown beneath the
// new one for six seconds.
function remember(name, old) {
  const it = beforeOf(name)
  it.value = old
  setTimeout(() => { if (it.peek() === old) it.value = null }, SIX_SECONDS)
}
