// This laptop's half of a pair: owns the port, decides who drives the light, keeps the other's show, tells how it stands.

import { createHash } from 'node:crypto'
import { setTimeout as sleep } from 'node:timers/promises'
import { CodedError, type Problem, problem } from '@glowchart/shared/errors.ts'
import type { LocalInterface } from '@glowchart/shared/network/ipv4.ts'
import { canonicalText } from '@glowchart/shared/show/canonical.ts'
import type { Output } from '@glowchart/shared/show/output.ts'
import type { Beat, Comparison, Reply, Told } from '@glowchart/shared/understudy/beat.ts'
import {
  type Duty,
  type DutyEvent,
  goesBefore,
  isReady,
  onDuty,
  startingDuty,
} from '@glowchart/shared/understudy/duty.ts'
import type { UnderstudyRequest, UnderstudyStatus } from '@glowchart/shared/understudy/status.ts'
import { versionHash } from '../app/version-hash.ts'
import type { PairSide } from '../engine/pair-side.ts'
import { pairWith } from './asking.ts'
import { type Door, pairDoor } from './door.ts'
import { follows, ownName, PORT, readKept, writeKept } from './kept.ts'
import { plainCode } from './pairing.ts'
import { listenFirst } from './priority.ts'
import { saysOf } from './says.ts'
import { laptopSearch } from './search.ts'
import { shadowOf } from './shadow.ts'

const TICK_MS = 20
/** Later than this, we stood still ourselves. */
const SLEPT = 250
const HASH_AFTER = 250
/** A wish to hand over stands so long. */
const YIELD_LASTS = 2000
/** One that ends the pair says so this often, and so far apart: the other must not take it for dead. */
const FAREWELLS = 3
const FAREWELL_MS = 30
const GREET_EVERY = 500
/** Both laptops send for so long when light changes hands, ms: ours has begun before the other hears that it may end. */
const OVERLAP = 200

export interface PartnerOptions {
  dataFolder: string
  pair: PairSide
  now: () => number
  interfaces: () => LocalInterface[]
  /** A new code, for the page that asked. */
  tellCode(code: string): void
}

export interface Partnership {
  ask(request: UnderstudyRequest): Promise<Problem | undefined>
  /** What is played has changed. */
  changed(): void
  readonly status: UnderstudyStatus
  close(): void
}

export function openPartnership({
  dataFolder,
  pair,
  now,
  interfaces,
  tellCode,
}: PartnerOptions): Partnership {
  let kept = readKept(dataFolder)
  let key: Buffer | null = kept.partner && Buffer.from(kept.partner.secret, 'hex')
  let duty: Duty = startingDuty(follows(kept) ? 'follows' : 'leads', kept.term)
  /** Of what is played here, and of tonight's ways out; with the values they are of. */
  let content = ''
  let hashing: NodeJS.Timeout | undefined
  let hashed: { of: Output | null; hash: string } = { of: null, hash: '' }
  let heardAt: number | null = null
  let lastBeat: { beat: Beat; at: number } | null = null
  let lastReply: Reply | null = null
  let compared: Comparison | null = null
  let trip: number | null = null
  let yieldsUntil = 0
  let ordered = ''
  let quietUntil = 0
  let greetedAt = 0
  let ticked = now()
  const searching = laptopSearch(PORT, kept.id, interfaces)
  const shadow = shadowOf({
    dataFolder,
    pair,
    interfaces,
    kept: () => kept,
    isFollowing: () => duty.role === 'follows',
    adopted() {
      clearTimeout(hashing)
      const { holding } = pair
      if (holding) content = versionHash(holding.rig, holding.show)
    },
  })

  const hurry = (): void => listenFirst(duty.role === 'follows' && kept.on)
  const keep = (change: Partial<typeof kept>): void => {
    kept = { ...kept, ...change }
    writeKept(dataFolder, kept)
  }
  const hasWaysOut = (): boolean => (pair.output?.routes.length ?? 0) > 0
  const outputHash = (): string => {
    const { output } = pair
    if (output && hashed.of !== output) hashed = { of: output, hash: sha256(canonicalText(output)) }
    return hashed.hash
  }
  const door: Door = pairDoor({
    dataFolder,
    now,
    interfaces,
    kept: () => kept,
    key: () => key,
    tellCode,
    heard,
    opened: () => order(),
    paired({ secret, ...partner }) {
      keep({ partner: { ...partner, secret: secret.toString('hex') }, leads: true })
      meet(secret, 'leads')
    },
    show() {
      const { holding, output } = pair
      if (!holding || !output || content === '') return null
      const { rig, show } = holding
      return JSON.stringify({ rig, show, output, content, outputHash: outputHash() })
    },
  })

  // ── Who drives the light ──────────────────────────────────────────────────

  /** A new partner: nothing that was heard of another one counts. */
  function meet(secret: Buffer | null, role: Duty['role']): void {
    key = secret
    duty = startingDuty(role, kept.term)
    heardAt = lastBeat = lastReply = compared = trip = null
    shadow.forget()
    pair.stand({ silent: role === 'follows', lift: 0, alone: false })
    hurry()
    order()
  }

  function step(event: DutyEvent): void {
    const next = onDuty(duty, event)
    duty = next.duty
    const { deed } = next
    if (duty.term !== kept.term || (duty.role === 'leads') !== kept.leads) {
      keep({ term: duty.term, leads: duty.role === 'leads' })
    }
    if (deed === null) return
    const silent = deed === 'yield'
    if (silent) shadow.forget()
    pair.stand({ silent, lift: duty.lift, alone: deed === 'takeOver' || deed === 'alone' })
    if (deed === 'takeOver') quietUntil = now() + OVERLAP
    yieldsUntil = 0
    compared = null
    hurry()
    order()
  }

  // ── What is heard ─────────────────────────────────────────────────────────

  function heard(told: Told, from: { address: string }, at: number): void {
    heardAt = at
    if (kept.partner && kept.partner.address !== from.address) {
      keep({ partner: { ...kept.partner, address: from.address } })
      order()
    }
    if (told.kind === 'beat') hearBeat(told, at)
    else if (told.kind === 'reply') hearReply(told, at)
    else if (told.kind === 'bye') step({ what: 'bye' })
  }

  function hearBeat(beat: Beat, at: number): void {
    const { term, lift, yields, sends } = beat
    const before = goesBefore({ id: kept.partner?.id ?? '', sends }, { id: kept.id, sends: hasWaysOut() })
    step({ what: 'beat', at, term, lift, yields, sends, held: shadow.holds, before })
    if (duty.role !== 'follows') return
    lastBeat = { beat, at }
    trip = beat.trip
    compared = shadow.follow(beat, at, content)
    reply()
  }

  function hearReply(told: Reply, at: number): void {
    lastReply = told
    if (told.echo) trip = Math.max(0, at - told.echo.sent - told.echo.held)
    compared = told.compared
    step({ what: 'reply', at, term: told.term })
    order()
  }

  function reply(): void {
    const { partner } = kept
    if (!partner) return
    door.socket?.send(
      {
        kind: 'reply',
        name: ownName(),
        term: duty.term,
        content,
        compared: compared ?? { state: 'unknown', says: shadow.fault || 'its show is being fetched' },
        ready: isReady(duty),
        echo: lastBeat && { sent: lastBeat.beat.sent, held: now() - lastBeat.at },
      },
      partner,
    )
  }

  /** What the loop's heartbeats say; the loop is told only when it changes. */
  function order(): void {
    const { partner } = kept
    const { socket } = door
    if (!socket || !key || !partner || duty.role !== 'leads') {
      if (ordered !== '') pair.order(null)
      ordered = ''
      return
    }
    const orders = {
      key,
      to: { host: partner.address, port: partner.port, via: kept.via, multicast: false },
      nonce: socket.nonce,
      challenge: socket.challenge,
      says: {
        name: ownName(),
        term: duty.term,
        yields: now() < yieldsUntil,
        content,
        output: outputHash(),
        trip: trip === null ? null : Math.round(trip * 10) / 10,
      },
    }
    const text = JSON.stringify(orders)
    if (text === ordered || now() < quietUntil) return
    ordered = text
    pair.order(orders)
  }

  // ── What is played here ───────────────────────────────────────────────────

  function changed(): void {
    content = ''
    clearTimeout(hashing)
    hashing = setTimeout(() => {
      const { holding } = pair
      if (holding) content = versionHash(holding.rig, holding.show)
      order()
    }, HASH_AFTER)
    order()
  }

  const ticking = setInterval(() => {
    const at = now()
    const slept = at - ticked > SLEPT
    ticked = at
    if (!door.socket || !kept.partner) return
    if (slept) step({ what: 'woke', at })
    // Heartbeats that wait in the socket are heard before the other is given up.
    else setImmediate(() => step({ what: 'tick', at: Math.min(at, now()) }))
    if (duty.role === 'leads') order()
    else if ((lastBeat === null || at - lastBeat.at > GREET_EVERY) && at - greetedAt > GREET_EVERY) {
      greetedAt = at
      reply()
    }
  }, TICK_MS)

  async function ask(request: UnderstudyRequest): Promise<Problem | undefined> {
    switch (request.do) {
      case 'allow': {
        if (!request.on) {
          await leave()
          keep({ on: false })
          door.close()
          return
        }
        const { on } = kept
        keep({ on: true, via: request.via ?? kept.via })
        door.open()
        // It follows again if it did, unless it drives a light of its own by now.
        if (!on && follows(kept) && !hasWaysOut()) meet(key, 'follows')
        changed()
        if (!kept.partner) door.showCode()
        return
      }
      case 'code':
        if (!kept.on) return problem('understudy.off', 'no port is open', 'understudy')
        door.showCode()
        return
      case 'search':
        if (request.on) searching.start()
        else searching.end()
        return
      case 'follow':
        return follow(request)
      case 'takeOver':
        if (!kept.partner || duty.role === 'leads')
          return problem('understudy.off', 'this laptop follows nobody', 'understudy')
        step({ what: 'takeOver', at: now() })
        return
      case 'handOver':
        if (!lastReply?.ready || heardAt === null || now() - heardAt > 1000 || duty.role === 'follows')
          return problem('understudy.unready', 'nobody who follows could take over now', 'understudy')
        yieldsUntil = now() + YIELD_LASTS
        order()
        return
      case 'part':
        await leave()
        keep({ partner: null, leads: true })
        meet(null, 'leads')
        return
    }
  }

  async function follow({
    address,
    port = PORT,
    code: typed,
  }: Extract<UnderstudyRequest, { do: 'follow' }>): Promise<Problem | undefined> {
    const plain = plainCode(typed)
    if (plain === null)
      return problem('understudy.code', 'a code has eight letters and digits', `${address}:${port}`)
    try {
      const own = { id: kept.id, name: ownName(), port: kept.port }
      const { via, secret, ...partner } = await pairWith(address, port, plain, own)
      searching.end()
      keep({
        on: true,
        via,
        leads: false,
        partner: { ...partner, secret: secret.toString('hex'), address, port },
      })
      door.open()
      meet(secret, 'follows')
      changed()
      reply()
      return
    } catch (error) {
      if (error instanceof CodedError) return error.problem
      throw error
    }
  }

  /** One that follows stays silent: whoever wants its light from here on chooses the ways out anew. */
  async function leave(): Promise<void> {
    door.endCode()
    if (duty.role === 'leads') {
      pair.order(null)
      quietUntil = Number.POSITIVE_INFINITY
      for (let i = 0; i < FAREWELLS; i++) {
        if (kept.partner) door.socket?.send({ kind: 'bye' }, kept.partner)
        await sleep(FAREWELL_MS)
      }
      quietUntil = 0
      ordered = ''
      return
    }
    const { output } = pair
    duty = startingDuty('leads', kept.term)
    pair.stand({ silent: false, lift: 0, alone: false, ...(output && { output: { ...output, routes: [] } }) })
  }

  door.open()
  hurry()
  if (kept.on) changed()

  return {
    ask,
    changed,
    get status(): UnderstudyStatus {
      const { partner } = kept
      const heard = heardAt === null ? null : now() - heardAt
      const ready = duty.role === 'follows' ? isReady(duty) : (lastReply?.ready ?? false)
      const standing = kept.on && partner !== null
      const { role, lift } = duty
      const fault = door.fault || (standing && role === 'follows' ? shadow.fault : '')
      const name = standing ? partner.name : null
      return {
        state: !kept.on ? 'off' : standing ? role : 'open',
        via: kept.on ? kept.via : null,
        codeUntil: door.codeUntil,
        partner: standing ? { name: partner.name, address: partner.address, heard, ready } : null,
        compared,
        trip,
        content,
        theirContent: (duty.role === 'leads' ? lastReply?.content : lastBeat?.beat.content) ?? '',
        found: searching.found,
        ...saysOf({ role, partner: name, heard, compared, ready, lift, output: pair.output, fault }),
      }
    },
    close() {
      clearInterval(ticking)
      clearTimeout(hashing)
      searching.end()
      shadow.stop()
      door.close()
    },
  }
}

const sha256 = (text: string): string => createHash('sha256').update(text).digest('hex')
