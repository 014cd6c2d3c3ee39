// The wire to the server: one websocket, kept up. An entry stays here until the
// server says it is durable, over lost connections and reloads of the page; it is
// sent again under the same id, which the server does once only.
import { apply, book, bootOf, number, unseen } from './book.js'
import { batch, signal } from './html.js'
import { learn } from './units.js'

const VERSION = 1
const SOONEST = 250, LATEST = 10_000 // ms between attempts to connect
const ANSWER_WITHIN = 8000 // ms an entry waits for its answer before the wire is taken for dead
const STORE = 'wintertruss.entries'
const NAME = 'wintertruss.page'

export const link = signal('connecting') // connecting, open, offline
export const entries = signal([]) // sent or to be sent, not acknowledged: { id, type, edit, file }
export const savedAt = signal(null)
export const trouble = signal(null) // what the server says of the book as a whole: { message, hint }

let socket = null
let wait = SOONEST
let timer = 0
let ready = false // the server has said where the book stands
const settle = new Map() // id -> what to call with the fault, or null when done

let pageName = '' // this page's own: undo is by page

// ownName gives the name that this window had before it was loaded again. A window
// that was made as a copy of another finds the name in use and takes a new one.
async function ownName() {
  const name = sessionStorage.getItem(NAME) ?? id()
  const free = await new Promise((done) => {
    if (!navigator.locks) return done(true) // not over plain http from another machine
    navigator.locks.request(NAME + name, { signal: AbortSignal.timeout(400) }, () => { done(true); return new Promise(() => {}) }).catch(() => done(false))
  })
  const own = free ? name : id()
  sessionStorage.setItem(NAME, own)
  return own
}

function id() {
  return Array.from(crypto.getRandomValues(new Uint8Array(12)), (b) => b.toString(16).padStart(2, '0')).join('')
}

// start opens the wire and takes up entries that an earlier visit left behind.
export async function start() {
  entries.value = stored()
  pageName = await ownName()
  connect()
  addEventListener('online', connectNow)
  // A page that is left may be kept, frozen, and its wire with it: it is here no more.
  addEventListener('pagehide', () => socket?.close())
  document.addEventListener('visibilitychange', () => document.hidden || connectNow())
}

// change asks for an edit of the book. The promise gives null once it is durable,
// or the fault for which it was refused.
export const change = (edit) => enter({ type: 'edit', edit })

// takeBack asks for this page's last edit to be undone.
export const takeBack = () => enter({ type: 'undo' })

function stored() {
  try {
    return JSON.parse(localStorage.getItem(STORE) ?? '[]')
  } catch {
    return [] // not ours, or forbidden
  }
}

// store changes what the browser keeps. It is read anew each time, as other windows
// keep their entries there too.
function store(change) {
  try {
    localStorage.setItem(STORE, JSON.stringify(change(stored())))
  } catch {
    // a full or forbidden store: the entry lives as long as the page does
  }
}

const tries = new Map() // id -> what to call with the answer

// tryOut asks what an edit would give, without doing it: the value of a line, or the
// fault. Without a connection nobody answers.
export function tryOut(edit, name) {
  return ask({ type: 'try', edit, ask: [name] })
}

// askWhy asks what moves a figure and what changed it: week is a place in the season
// or undefined for all of it, part one of its members or undefined for all together.
export const askWhy = (name, week, part) => ask({ type: 'why', ask: [name], week, part })

// mine says whether an edit was made in this window.
export const mine = (by) => by === pageName

function ask(question) {
  if (!ready) return new Promise(() => {})
  const it = id()
  socket.send(JSON.stringify({ id: it, ...question }))
  return new Promise((done) => tries.set(it, done))
}

let looked = { scenario: '', beside: [] }

// lookAt asks what scenarios come to: whose values to show, and whose answers to set
// beside the plan's. The server says so again after every change.
export function lookAt(asked) {
  looked = { ...looked, ...asked }
  if (ready) socket.send(JSON.stringify({ type: 'look', ...looked }))
}

const listeners = []
export const onLook = (call) => listeners.push(call)

function enter(entry) {
  const it = { id: id(), file: book.peek()?.file ?? '', ...entry }
  entries.value = [...entries.peek(), it]
  if (it.type === 'edit') store((list) => [...list, it])
  if (ready) send(it)
  return new Promise((done) => settle.set(it.id, done))
}

function send({ id, type, edit }) {
  socket.send(JSON.stringify(edit ? { type, id, edit } : { type, id }))
  setTimeout(() => { if (entries.peek().some((e) => e.id === id) && ready) socket.close() }, ANSWER_WITHIN)
}

function settled(id, fault) {
  entries.value = entries.peek().filter((e) => e.id !== id)
  store((list) => list.filter((e) => e.id !== id))
  if (!fault) savedAt.value = new Date()
  if (settle.has(id)) settle.get(id)(fault)
  else if (fault) trouble.value = fault // of an earlier visit: nobody waits for it
  settle.delete(id)
}

function connectNow() {
  if (link.peek() === 'offline') {
    wait = SOONEST
    connect()
  }
}

function connect() {
  clearTimeout(timer)
  const before = socket
  link.value = link.peek() === 'offline' ? 'offline' : 'connecting'
  const it = new WebSocket(new URL('socket', location.href.replace(/^http/, 'ws')))
  socket = it
  before?.close()
  it.onopen = () => it.send(JSON.stringify({ type: 'hello', version: VERSION, page: pageName, from: number.peek(), boot: bootOf() }))
  it.onmessage = (event) => { if (it === socket) receive(JSON.parse(event.data)) }
  it.onclose = () => {
    if (it !== socket) return
    ready = false
    socket = null
    tries.clear()
    link.value = 'offline'
    timer = setTimeout(connect, wait * (0.7 + 0.6 * Math.random()))
    wait = Math.min(LATEST, wait * 2)
  }
}

// startOver asks for the whole book: a message is missing.
function startOver() {
  number.value = 0
  socket.close()
  wait = SOONEST
}

function receive(message) {
  if (message.type === 'would' || message.type === 'why') {
    tries.get(message.id)?.(message)
    tries.delete(message.id)
    return
  }
  if (message.type === 'look') {
    for (const call of listeners) call(message)
    return
  }
  batch(() => {
    if (message.version && message.version !== VERSION) {
      trouble.value = { message: 'The program is newer than this page.', hint: 'Load the page again.' }
    }
    if (!apply(message, pageName)) return startOver()
    if (message.type === 'snapshot' || message.type === 'resumed') opened()
    if (message.type === 'ack') settled(message.id, null)
    if (message.type === 'refused') settled(message.id, message.fault ?? { message: 'It was refused.', from: 0, to: 0 })
    if (message.type === 'elsewhere') trouble.value = message.fault
  })
  if (message.type !== 'refused' && message.type !== 'elsewhere') painted()
}

// opened sends what waits, once. Entries of another book stay where they are.
function opened() {
  if (ready) return
  link.value = 'open'
  wait = SOONEST
  ready = true
  const file = book.peek().file
  for (const entry of entries.peek()) if (entry.file === file) send(entry)
  if (looked.scenario || looked.beside.length) lookAt({})
}

// painted notes the number of the book on the body once it can be seen: tests and
// people with a stopwatch look there.
function painted() {
  const shown = String(number.peek())
  requestAnimationFrame(() => {
    const channel = new MessageChannel()
    channel.port1.onmessage = () => {
      document.body.dataset.number = shown
      setTimeout(unseen)
    }
    channel.port2.postMessage(0)
  })
}
