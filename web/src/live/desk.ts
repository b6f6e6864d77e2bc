// Joins the socket to the page: what comes in goes to its store, what the hands do goes out. One socket, one ping, one watch.

import type { AccessWish } from '@glowchart/shared/access/access.ts'
import { problem } from '@glowchart/shared/errors.ts'
import type {
  AppMessage,
  Discover,
  EngineStatus,
  MidiChoice,
  PageMessage,
  Transport,
} from '@glowchart/shared/messages.ts'
import type { Check } from '@glowchart/shared/render/check.ts'
import type { LivePatch } from '@glowchart/shared/render/live.ts'
import type { Output } from '@glowchart/shared/show/output.ts'
import type { UnderstudyRequest } from '@glowchart/shared/understudy/status.ts'
import type { VersionRequest } from '@glowchart/shared/version/request.ts'
import { askWhoWeAre } from '../access/joining.ts'
import { LOOKS_ON, may } from '../access/looking-on.ts'
import { type Answer, type Connection, openConnection, type Question } from '../connection.ts'
import { shownDocuments } from '../document/document.ts'
import { noteOthers, startEditing } from '../document/editing.ts'
import { newId } from '../document/new-id.ts'
import { sendEditsBy, takeApplied, waitingEdits } from '../document/pending.ts'
import { say, useSession } from '../document/session.ts'
import { notInVersion } from '../version/on-chart.ts'
import { forgetVersionsOfOthers, takeVersion, useVersion } from '../version/running.ts'
import { repaint } from './animation.ts'
import { resetEngineClock, takePong } from './engine-clock.ts'
import { framesSilent, takeFrame } from './frames.ts'
import { takeFix } from './playhead.ts'

/** Without frames for so long while playing, what the stage shows is old. */
const STALE = 1000
const PING_EVERY = 2000
/** Until it has enough answers to trust the fastest: the first comes while the page is busy with itself. */
const SOON = 50
const NOT_SENT: Answer = { ok: false, problem: null }

let connection: Connection | null = null

/** Opens the socket to the server this page came from. Returns what closes everything again. */
export function openDesk(): () => void {
  const url = new URL('/live', location.href)
  url.protocol = location.protocol === 'https:' ? 'wss:' : 'ws:'
  url.searchParams.set('client', ownId())
  sendEditsBy(question => connection?.ask(question) ?? Promise.resolve(NOT_SENT))
  connection = openConnection(url.href, {
    opened: () => {
      resetEngineClock()
      tell({ type: 'frames', on: true })
      ping()
    },
    lost: () => {
      if (useSession.getState().link === 'open') say('Not connected; nothing here reaches the lights.')
      useSession.setState({ link: 'lost', status: null, framesStale: false, access: null })
      void askWhoWeAre()
    },
    message: receive,
    frame: (bytes, at) => {
      const frame = takeFrame(bytes, at)
      if (!frame) return
      takeFix({ position: frame.position, at: frame.due, playing: frame.playing }, bpm())
      repaint()
      if (useSession.getState().framesStale) useSession.setState({ framesStale: false })
    },
  })
  const pinging = setInterval(ping, PING_EVERY)
  const watching = setInterval(watchFrames, STALE / 4)
  window.addEventListener('beforeunload', askToStay)
  return () => {
    clearInterval(pinging)
    clearInterval(watching)
    window.removeEventListener('beforeunload', askToStay)
    connection?.close()
    connection = null
    sendEditsBy(null)
  }
}

/** What the server has not got yet would go with the page: the browser asks first. */
function askToStay(event: Event): void {
  if (waitingEdits() > 0) event.preventDefault()
}

/** This page's own id: kept over a reconnect and a reload, so that the server knows whose edits may be taken back. */
function ownId(): string {
  const key = 'glowchart.client'
  try {
    const kept = sessionStorage.getItem(key) ?? newId('page')
    sessionStorage.setItem(key, kept)
    return kept
  } catch {
    // A browser may forbid storage; the id then lasts as long as the page.
    return newId('page')
  }
}

function receive(message: AppMessage): void {
  switch (message.type) {
    case 'hello':
      startEditing(message, useSession.getState().link === 'open')
      useSession.setState({ link: 'open', problem: null, role: message.role, offer: null })
      forgetVersionsOfOthers(message.show.id)
      takeStatus(message.status)
      return
    case 'applied':
      if (!takeApplied(message)) connection?.restart()
      noteOthers(message)
      return
    case 'status':
      takeStatus(message.status)
      return
    case 'network':
      useSession.setState({ network: message.network })
      return
    case 'role':
      useSession.setState({ role: message.role })
      say(may({ type: 'transport' }) ? 'You have the controls.' : LOOKS_ON)
      return
    case 'access':
      useSession.setState({ access: message.access })
      return
    case 'offer':
      useSession.setState({ offer: message.offer })
      return
    case 'code':
      useSession.setState({ pairingCode: message.code })
      return
    case 'touched':
      useSession.setState({ touched: { input: message.input } })
      return
    case 'version':
      takeVersion(message)
      return
    case 'checking':
      useVersion.setState({ checking: { read: message.read, songs: message.songs } })
      return
    case 'checked':
      useVersion.setState({ checked: message.checked })
      return
    case 'clockPong':
      if (takePong(message.at, performance.now(), message.engine)) setTimeout(ping, SOON)
      return
    case 'refused':
      useSession.setState({ problem: message.problem })
      say(message.problem.message)
  }
}

function takeStatus(status: EngineStatus | null): void {
  const { status: before, loaded } = useSession.getState()
  // Not by a lost connection alone: who writes on another song goes on there.
  const follows = status?.song && status.song !== loaded ? { song: status.song } : {}
  useSession.setState({ status, ...(status ? { loaded: status.song } : {}), ...follows })
  if (!status && before) say('The light engine is down; nothing here reaches the lights.')
  // Frames say it better; the status fills in where none come.
  if (status && framesSilent(performance.now()) > STALE / 2) {
    takeFix({ position: status.position, at: status.at, playing: status.playing }, status.bpm)
  }
  repaint()
}

const bpm = (): number => useSession.getState().status?.bpm ?? 120

function ping(): void {
  tell({ type: 'clockPing', at: performance.now() })
}

function watchFrames(): void {
  const { status, framesStale } = useSession.getState()
  const stale = status?.playing === true && framesSilent(performance.now()) > STALE
  if (stale === framesStale) return
  useSession.setState({ framesStale: stale })
  if (stale) say('No frames from the engine; the stage shown is old.')
}

const tell = (message: PageMessage): boolean => (may(message) && connection?.tell(message)) || false

async function ask(question: Question): Promise<Answer> {
  if (!may(question)) {
    say(LOOKS_ON)
    return { ok: false, problem: problem('access.role', LOOKS_ON, question.type) }
  }
  useSession.setState({ problem: null })
  const answer = await (connection?.ask(question) ?? NOT_SENT)
  if (!answer.ok && !answer.problem) say('Not connected; nothing here reaches the lights.')
  return answer
}

/** Bytes from a MIDI port of this computer; `at` in ms of the engine's clock. */
export const tellMidi = (port: string, at: number, bytes: number[]): void =>
  void tell({ type: 'midi', midi: { port, at, bytes } })

export function press(transport: Transport): Promise<Answer> {
  const { running } = useVersion.getState()
  if (transport.do !== 'song' || !running || running.show.songs[transport.song])
    return ask({ type: 'transport', transport })
  const title = shownDocuments()?.show.songs[transport.song]?.title ?? transport.song
  notInVersion(`“${title}” is`, title)
  return Promise.resolve(NOT_SENT)
}
export const setLive = (live: LivePatch): Promise<Answer> => ask({ type: 'live', live })
/** Holds a line check on the wire, or ends it (null); to be told again well within `CHECK_LASTS`. */
export const holdCheck = (check: Check | null): Promise<Answer> =>
  connection?.ask({ type: 'check', check }) ?? Promise.resolve(NOT_SENT)
/** Publishes, takes in, goes back, ends; a check leaves its answer in `useVersion`. */
export const askVersion = (version: VersionRequest): Promise<Answer> => ask({ type: 'version', version })
/** Lets others in from the network, gives and takes: on the laptop's own page. */
export const wishAccess = (access: AccessWish): Promise<Answer> => ask({ type: 'access', access })
/** Lets go of what a desk of the house holds that is no longer heard. */
export const releaseHouse = (): Promise<Answer> => ask({ type: 'releaseHouse' })
export const askUnderstudy = (understudy: UnderstudyRequest): Promise<Answer> =>
  ask({ type: 'understudy', understudy })
export const setOutput = (output: Output): Promise<Answer> => ask({ type: 'output', output })

/** Which MIDI ports of the server the clock comes from and goes to; kept with the server. */
export const chooseMidi = (choice: MidiChoice): Promise<Answer> => ask({ type: 'midiChoice', choice })

/** Brings back what was left before the restart, or puts it aside. */
export const recover = (answer: 'goOn' | 'fresh'): Promise<Answer> => ask({ type: 'recover', answer })

/** Wishes that nodes are asked for; what is found comes into the session. Wished over and over, so it asks nobody twice. */
export function discover(wish: Discover): void {
  if (useSession.getState().status && may({ type: 'discover' }))
    void connection?.ask({ type: 'discover', discover: wish })
}
