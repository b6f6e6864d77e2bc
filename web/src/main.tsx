// Starts the page: typefaces, the live socket, the keys, and what is seen.

// Before anything that holds a schema.
import '@glowchart/shared/without-eval.ts'
import '@fontsource-variable/atkinson-hyperlegible-next/wght.css'
import '@fontsource-variable/besley/wght.css'
import '@fontsource-variable/besley/wght-italic.css'
import './ui/tokens.css'
import './ui/base.css'
import { createRoot } from 'react-dom/client'
import { App } from './App.tsx'
import { startAdvising } from './advice/advising.ts'
import { playToChosenDevice } from './audio/device.ts'
import { openDesk } from './live/desk.ts'
import { listenForPedals } from './preflight/heard.ts'
import { openRecordings } from './recording/open.ts'
import { listenToTaps } from './tap/keys.ts'
import { listenToKeys } from './transport/keys.ts'

openDesk()
playToChosenDevice()
openRecordings()
// Before the other keys: while something is armed, some of them tap.
listenToTaps()
listenToKeys()
listenForPedals()
startAdvising()
createRoot(document.getElementById('page')!).render(<App />)
