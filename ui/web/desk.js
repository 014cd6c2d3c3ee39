// The desk: what stands around the book. It starts the wire and puts everything in
// its place.
import { Answers, Slim } from './answers.js'
import { bands, book, here, news, undo } from './book.js'
import { sentence } from './edit.js'
import { Find } from './find.js'
import { computed, effect, html, icon, render, signal, useEffect, useRef } from './html.js'
import { Contents, Page } from './page.js'
import { Looking, Scenarios } from './scenario.js'
import { dateText } from './show.js'
import { Trace, path } from './trace.js'
import { habit, habits, useUnits } from './units.js'
import { Ribbon } from './ribbon.js'
import { hang } from './week.js'
import { entries, link, savedAt, start, takeBack, trouble } from './wire.js'

const clock = (d) => d.toLocaleTimeString('en-GB', { hour: '2-digit', minute: '2-digit' })

// state says in a few words whether what was entered is safe.
const state = computed(() => {
  const n = entries.value.length
  const many = n === 1 ? '1 entry' : `${n} entries`
  if (link.value === 'offline') return { icon: 'off', text: n ? `${many} waiting` : 'No connection', small: n ? 'kept here until the program answers' : 'looking for the program', bad: true }
  if (n) return { icon: 'desk', text: n === 1 ? 'Saving…' : `${many} waiting`, small: 'on the way' }
  if (link.value === 'connecting') return { icon: 'desk', text: 'Opening…', small: '' }
  return { icon: 'saved', text: savedAt.value ? `Saved ${clock(savedAt.value)}` : 'Saved', small: book.value ? `in ${book.value.file}` : '' }
})

function State() {
  const { icon: name, text, small, bad } = state.value
  const others = here.value - 1
  return html`<div class="foot-of-rail">${others > 0 && html`<div class="state" id="here">${icon('desk')}<span><b>${others === 1 ? '1 other page' : `${others} other pages`}</b><small>${others === 1 ? 'has' : 'have'} this book open</small></span></div>`}
    <div class=${'state' + (bad ? ' trouble' : '')} role="status" id="state">${icon(name)}<span><b>${text}</b>${small && html`<small>${small}</small>`}</span></div></div>`
}

function Undo() {
  const what = undo.value
  return html`<button class="tool" id="undo" disabled=${!what} title=${what ? `Undo: ${what}` : 'Nothing of yours to undo'} onClick=${takeBack}>${icon('undo')}<span class="undo-what">Undo${what && html`<span class="lbl">: ${what}</span>`}</span></button>`
}

const theme = signal(localStorage.getItem('wintertruss.theme') ?? '')
effect(() => {
  if (theme.value) { document.documentElement.dataset.theme = theme.value; localStorage.setItem('wintertruss.theme', theme.value) }
})

function Light() {
  const turn = () => {
    const dark = theme.value ? theme.value === 'dark' : matchMedia('(prefers-color-scheme: dark)').matches
    theme.value = dark ? 'light' : 'dark'
  }
  return html`<button class="tool" onClick=${turn} title="Light or dark">${icon('sun')}<span class="vh">Light or dark</span></button>`
}

// Units lets this viewer read the book in the units they are used to.
function Units() {
  return html`<label class="tool units" title="Units that figures are shown in">${icon('scale')}<span class="vh">Units</span><span class="pick"><select id="units" value=${habit.value} onChange=${(e) => useUnits(e.target.value)}>${habits.map(([name, text]) => html`<option key=${name} value=${name} selected=${name === habit.value}>${text}</option>`)}</select>${icon('chev')}</span></label>`
}

// Banner stands at the foot of the window and says what stands between the person and the file.
function Banner() {
  const t = trouble.value
  const n = entries.value.length
  return html`<div class="banners" role="alert">
    ${t && html`<div class="banner">${icon('bad')}<span><b>${sentence(t.message)}</b> ${t.hint ? sentence(t.hint) : ''}</span><button onClick=${() => { trouble.value = null }}>Seen</button></div>`}
    ${link.value === 'offline' && n > 0 && html`<div class="banner mine">${icon('off')}<span><b>${n === 1 ? '1 entry waits.' : `${n} entries wait.`}</b> ${n === 1 ? 'It is kept in this browser and goes' : 'They are kept in this browser and go'} out as soon as the program answers. You can go on.</span></div>`}</div>`
}

// Voice tells readers of the screen what others changed.
const Voice = () => html`<p class="vh" aria-live="polite" id="voice">${news.value ? `Someone else ${news.value.what}.` : ''}</p>`

function Desk() {
  const lead = useRef(null)
  useEffect(() => {
    const seen = new IntersectionObserver(([e]) => document.documentElement.classList.toggle('scrolled', !e.isIntersecting), { rootMargin: '-40px 0px 0px' })
    seen.observe(lead.current)
    return () => seen.disconnect()
  }, [])
  return html`<a class="skip" href="#page" onClick=${(e) => { e.preventDefault(); document.getElementById('page').focus() }}>Skip to the page</a>
    <div class=${path.value.length ? 'desk tracing' : 'desk'}>
      <nav class="rail" aria-label="Pages"><div class="mark"><svg width="20" height="24" aria-hidden="true"><use href="#i-mark" /></svg>Wintertruss</div><${Find} /><${Contents} /><${State} /></nav>
      <div class="main">
        <header class="lead" ref=${lead}><div class="top"><div class="book">${book.value?.title ?? ''}<small>${book.value ? `as of ${dateText(book.value.as_of.slice(0, 10))}` : ''}</small></div><${Scenarios} /><div class="tools"><${Undo} /><${Units} /><${Light} /></div></div><${Looking} /><${Answers} /></header>
        <div class="hang"><${Slim} /><${Ribbon} /></div>
        <${Page} /><${Banner} /></div>
      <${Trace} />
      <${Voice} /></div>`
}

effect(() => { document.body.dataset.bands = bands.value })

document.addEventListener('keydown', (e) => {
  if (e.key !== 'z' || !(e.ctrlKey || e.metaKey) || e.shiftKey || e.altKey || e.target.closest('input, textarea, select')) return
  e.preventDefault()
  if (undo.peek()) takeBack()
})

hang()
render(html`<${Desk} />`, document.getElementById('desk'))
start()
