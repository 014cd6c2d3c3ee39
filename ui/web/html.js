// What every part of the page is written with: markup without a compiler, and
// values that know who reads them.
import { h } from './vendor/preact.js'
import htm from './vendor/htm.js'

export const html = htm.bind(h)
export { Fragment, render } from './vendor/preact.js'
export { useEffect, useLayoutEffect, useRef } from './vendor/hooks.js'
export { batch, computed, effect, signal, untracked, useComputed, useSignal } from './vendor/signals.js'

// icon gives one of the drawings that stand in index.html.
export const icon = (name) => html`<svg class="i" aria-hidden="true"><use href=${'#i-' + name} /></svg>`
