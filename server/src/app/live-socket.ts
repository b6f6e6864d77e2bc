// The live socket: every page's messages in, documents, status and frames out to all of them.

import { randomUUID } from 'node:crypto'
import type { WebSocket } from '@fastify/websocket'
import { leastRoleFor } from '@glowchart/shared/access/least-role.ts'
import { isAtLeast, type Role } from '@glowchart/shared/access/role.ts'
import { CodedError, type Problem, problem } from '@glowchart/shared/errors.ts'
import {
  type AppMessage,
  type EngineStatus,
  type Network,
  type PageMessage,
  pageMessageSchema,
} from '@glowchart/shared/messages.ts'
import type { Check } from '@glowchart/shared/render/check.ts'
import { faultOf } from '@glowchart/shared/show/faults.ts'
import type { Access, Who } from '../access/access.ts'
import { monotonicMs } from '../engine/now.ts'
import { requireOwnShow } from './adopting.ts'
import { versionDesk } from './asking-version.ts'
import type { Editing } from './editing.ts'
import type { EngineLink, EngineRequest } from './engine-link.ts'
import type { Recovery } from './left-off.ts'
import { keepMeasure, roomFor } from './measure.ts'
import { fromJson, seqOf } from './page-line.ts'
import type { ShowVersion } from './show-version.ts'

/** A page this many bytes behind gets no frames until it has caught up: a late frame is worth nothing. */
const MOST_BEHIND = 256 * 1024
/** A page this many bytes behind does not read at all; it is cut off, and gets everything anew when it comes back. */
const HOPELESSLY_BEHIND = 16 * 1024 * 1024
/** Pages take a silent socket for a dead one; while the engine says nothing, this often the app says so. */
const STATUS_EVERY_MS = 1000

/** Close codes (RFC 6455 7.4: 4000 to 4999 are ours). The page then asks to join. */
const SESSION_ENDED = 4001
/** IANA's registry of WebSocket close codes: 1013, try again later. */
const TRY_AGAIN_LATER = 1013
const nothing = (): undefined => undefined

export interface LiveSocket {
  /** Takes in a page. `client`: the page's own id, which it keeps over a reconnect. `who`: null for a stranger. */
  join(socket: WebSocket, client: string | undefined, who: Who | null): void
  readonly status: EngineStatus | null
  /** The role of every page that is connected. */
  readonly pages: readonly Role[]
  close(): void
}

interface Page {
  readonly socket: WebSocket
  readonly id: string
  readonly who: Who
  /** As it was last told. */
  role: Role
  frames: boolean
  /** Fixtures that this page lights to find them; they go dark with it. */
  lit: readonly string[]
  /** Parts that this page holds bumped; let go with it. */
  readonly bumped: Set<string>
}

export function liveSocket(
  editing: Editing,
  version: ShowVersion,
  engine: EngineLink,
  access: Access,
  recovery: Recovery,
): LiveSocket {
  const pages = new Set<Page>()
  const server = randomUUID()
  let status: EngineStatus | null = null
  let network: Network | null = null

  const sendText = ({ socket }: Page, text: string): void => {
    if (socket.bufferedAmount > HOPELESSLY_BEHIND) socket.terminate()
    else socket.send(text)
  }
  const send = (page: Page, message: AppMessage): void => sendText(page, JSON.stringify(message))
  const tellAll = (message: AppMessage): void => {
    const text = JSON.stringify(message)
    for (const page of pages) sendText(page, text)
  }
  /** The next status says it better: a page that is behind does without this one. */
  const tellStatus = (): void => {
    told = monotonicMs()
    const text = JSON.stringify({ type: 'status', status } satisfies AppMessage)
    for (const page of pages) if (page.socket.bufferedAmount < MOST_BEHIND) page.socket.send(text)
  }
  let told = 0
  const watch = setInterval(() => {
    if (monotonicMs() - told >= STATUS_EVERY_MS) tellStatus()
  }, STATUS_EVERY_MS / 2)

  const hello = (page: Page): void => {
    const { documents, revision } = editing
    const { id: you, role } = page
    send(page, { type: 'hello', server, you, role, ...documents, revision, status })
    if (version.of === documents.show.id) send(page, versionNow())
    if (network) send(page, { type: 'network', network })
    if (role === 'owner') send(page, { type: 'access', access: accessState() })
    if (recovery.offer) send(page, { type: 'offer', offer: recovery.offer })
  }
  const versionNow = (): AppMessage => ({
    type: 'version',
    running: version.running,
    versions: version.versions,
    damaged: version.damaged,
  })

  const accessState = () => access.state(guest => [...pages].filter(page => page.who.guest === guest).length)
  const tellOwners = (): void => {
    const text = JSON.stringify({ type: 'access', access: accessState() } satisfies AppMessage)
    for (const page of pages) if (page.role === 'owner') sendText(page, text)
  }
  access.listen(() => {
    for (const page of pages) {
      const { role } = page.who
      if (role === page.role) continue
      if (role === null) {
        page.socket.close(SESSION_ENDED)
        continue
      }
      page.role = role
      send(page, { type: 'role', role })
      letGo(page)
    }
    tellOwners()
  })

  /**
   * The engine gets the published version where one runs, and edits stay away from it; else the draft, whole documents
   * once and afterwards what edits change in them.
   */
  let loading = false
  const load = (): void => {
    if (loading) return
    loading = true
    setImmediate(sendLoad)
  }
  const sendLoad = (): void => {
    loading = false
    const { running } = version
    if (!running) return engine.send({ type: 'load', ...editing.documents, revision: editing.revision })
    const { rig, show, hash, number } = running
    // Below zero: an edit of the draft never fits on top of it.
    engine.send({ type: 'load', rig, show, revision: -number, version: hash })
  }
  /** The engine has come up, and has not said what it holds: one that plays the version already is left in peace. */
  let unsure = false
  const wantFrames = (): void => engine.send({ type: 'frames', on: [...pages].some(page => page.frames) })

  /** What all pages light together. */
  const litNow = (): string[] => [...new Set([...pages].flatMap(page => page.lit))]

  editing.listen({
    applied(edits) {
      for (const message of edits) tellAll(message)
      // A load that is about to be sent has them in it.
      if (loading || version.running) return
      const changes = edits.map(({ document, diff }) => ({ document, diff }))
      const { revision } = edits.at(-1)!
      engine.send({ type: 'change', from: edits[0]!.revision - 1, revision, changes })
    },
    opened() {
      for (const page of pages) hello(page)
      loading = true
      void version.follow().then(() => {
        tellAll(versionNow())
        sendLoad()
      })
    },
  })
  recovery.listen(() => tellAll({ type: 'offer', offer: recovery.offer }))
  version.listen(() => {
    tellAll(versionNow())
    load()
  })
  const endListening = engine.on(message => {
    switch (message.type) {
      case 'up':
        if (version.running) unsure = true
        else load()
        // An engine that outlived the app, or goes on for another one, may still light for a page that is gone.
        void engine.request({ type: 'live', live: { lit: litNow() } })
        return wantFrames()
      case 'behind':
        return load()
      case 'down':
        status = null
        unsure = false
        return tellStatus()
      case 'status':
        status = message.status
        if (unsure && status.version !== version.running?.hash) load()
        unsure = false
        return tellStatus()
      case 'touched':
        return tellAll(message)
      case 'code':
        // To nobody else: who reads it may follow.
        if (codeGoesTo && pages.has(codeGoesTo)) send(codeGoesTo, message)
        return
      case 'network':
        network = message.network
        return tellAll(message)
      case 'frame':
        for (const { socket, frames } of pages) {
          if (frames && socket.bufferedAmount < MOST_BEHIND) socket.send(message.frame)
        }
    }
  })

  /** Answers a request once its work is done: with a problem, or with the revision of an edit. */
  async function answer(
    page: Page,
    seq: number,
    work: Promise<Problem | number | null | undefined>,
  ): Promise<void> {
    let result: Problem | number | null | undefined
    try {
      result = await work
    } catch (error) {
      if (error instanceof CodedError) result = error.problem
      else {
        process.stderr.write(`${(error as Error).stack}\n`)
        result = problem('request.failed', (error as Error).message, 'server')
      }
    }
    if (typeof result === 'number') send(page, { type: 'done', seq, revision: result })
    else send(page, result ? { type: 'refused', seq, problem: result } : { type: 'done', seq })
  }

  /** The page that last asked for anything of the second laptop. */
  let codeGoesTo: Page | null = null
  const onOwn = async <T>(what: string, work: () => Promise<T>): Promise<T> => {
    requireOwnShow(status, what)
    return work()
  }
  /** The page that holds the line check; when it goes, the check ends. */
  let checking: Page | null = null
  function holdCheck(page: Page, check: Check | null): Promise<Problem | undefined> {
    checking = check ? page : null
    return engine.request({ type: 'check', check })
  }

  const desk = versionDesk(version)

  /** What a page held that it may not hold any more goes dark, as when it goes. */
  function letGo(page: Page): void {
    const isGone = !pages.has(page)
    if (page.lit.length > 0 && (isGone || !isAtLeast(page.role, 'controller'))) {
      page.lit = []
      void engine.request({ type: 'live', live: { lit: litNow() } })
    }
    if (page.bumped.size > 0 && (isGone || !isAtLeast(page.role, 'controller'))) {
      const bumps = Object.fromEntries([...page.bumped].map(part => [part, null]))
      page.bumped.clear()
      void engine.request({ type: 'live', live: { bumps } })
    }
    if (isGone) desk.leave(page)
    if (checking === page && (isGone || !isAtLeast(page.role, 'checker'))) void holdCheck(page, null)
  }

  const ask = (page: Page, seq: number, request: EngineRequest): void =>
    void answer(page, seq, engine.request(request))

  function hear(page: Page, message: PageMessage): void {
    const least = leastRoleFor(message)
    const role = page.who.role ?? 'viewer'
    if (!isAtLeast(role, least)) {
      if (!('seq' in message)) return
      const refused = problem(
        'access.role',
        `${message.type} takes a ${least}, and this page is a ${role}`,
        message.type,
      )
      return send(page, { type: 'refused', seq: message.seq, problem: refused })
    }
    switch (message.type) {
      case 'edit': {
        const edited = onOwn(message.edit, () => editing.edit(page.id, message.edit, message.args))
        return void answer(page, message.seq, edited)
      }
      case 'undo': {
        const undone = onOwn('undo', () => editing.undo(page.id, message.revision))
        return void answer(page, message.seq, undone)
      }
      case 'transport':
        return ask(page, message.seq, { type: 'transport', transport: message.transport })
      case 'live': {
        if (message.live.lit) page.lit = message.live.lit
        for (const [part, level] of Object.entries(message.live.bumps ?? {})) {
          if (level === null) page.bumped.delete(part)
          else page.bumped.add(part)
        }
        const live = message.live.lit ? { ...message.live, lit: litNow() } : message.live
        return void answer(page, message.seq, engine.request({ type: 'live', live }))
      }
      case 'check':
        return void answer(page, message.seq, holdCheck(page, message.check))
      case 'output':
        return void answer(page, message.seq, engine.request({ type: 'output', output: message.output }))
      case 'releaseHouse':
        return void answer(page, message.seq, engine.request({ type: 'releaseHouse' }))
      case 'discover':
        return ask(page, message.seq, { type: 'discover', discover: message.discover })
      case 'understudy': {
        const { seq, understudy } = message
        codeGoesTo = page
        return void answer(page, seq, engine.request({ type: 'understudy', understudy }))
      }
      case 'version':
        return void answer(
          page,
          message.seq,
          desk.ask(page, message, status, told => send(page, told)),
        )
      case 'midiChoice':
        return void answer(page, message.seq, engine.request({ type: 'midiChoice', choice: message.choice }))
      case 'recover':
        return void answer(page, message.seq, recovery.answer(message.answer))
      case 'frames':
        page.frames = message.on
        return wantFrames()
      case 'midi': {
        // A page's clock may run ahead: what comes from the future would hold up whoever follows until then.
        const at = Math.min(message.midi.at, monotonicMs())
        return engine.send({ type: 'midi', midi: { ...message.midi, at } })
      }
      case 'access':
        return void answer(page, message.seq, access.wish(message.access).then(nothing))
      case 'clockPing':
        return send(page, { type: 'clockPong', at: message.at, engine: monotonicMs() })
    }
  }

  return {
    get status() {
      return status
    },
    get pages() {
      return [...pages].map(page => page.role)
    },
    join(socket, client, who) {
      socket.on('error', () => socket.terminate())
      // Refused before it came here; but a session may end in between.
      const role = who?.role
      if (!who || !role) return socket.close(SESSION_ENDED)
      if (
        !roomFor(
          who,
          [...pages].map(page => page.who),
        )
      )
        return socket.close(TRY_AGAIN_LATER)
      const own = client && /^[\w-]{8,64}$/.test(client) ? client : randomUUID()
      const page: Page = {
        socket,
        // A guest is never taken for somebody else's page, whose edits it could take back.
        id: who.guest === null ? own : `${who.guest}-${own}`,
        who,
        role,
        frames: false,
        lit: [],
        bumped: new Set(),
      }
      pages.add(page)
      keepMeasure(socket, () => page.who.role)
      socket.on('message', (data, isBinary) => {
        const value = isBinary ? null : fromJson(String(data))
        const parsed = pageMessageSchema.safeParse(value)
        if (parsed.success) return hear(page, parsed.data)
        const { path, says } = faultOf(parsed.error, value)
        const where = path || 'message'
        send(page, {
          type: 'refused',
          seq: seqOf(value),
          problem: problem('message.schema', `${where}: ${says}`, where),
        })
      })
      socket.on('close', () => {
        pages.delete(page)
        letGo(page)
        if (page.frames) wantFrames()
        if (page.who.guest !== null) tellOwners()
      })
      hello(page)
      if (page.who.guest !== null) tellOwners()
    },
    close() {
      clearInterval(watch)
      endListening()
    },
  }
}
