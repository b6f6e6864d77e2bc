// Open Sound Control in the engine: our own addresses act without any page, others are triggers to be learned.

import { createSocket, type RemoteInfo, type Socket } from 'node:dgram'
import { CodedError } from '@glowchart/shared/errors.ts'
import type { OscHeard, OscStatus, Transport } from '@glowchart/shared/messages.ts'
import { numberOf, OUR_ADDRESSES, oscDeeds } from '@glowchart/shared/osc/commands.ts'
import { decodeOsc, messagesOf, type OscArgument, type OscMessage } from '@glowchart/shared/osc/packet.ts'
import { type OscIn, oscAddress } from '@glowchart/shared/osc/schema.ts'
import type { LivePatch } from '@glowchart/shared/render/live.ts'
import { sameValue } from '@glowchart/shared/show/diff.ts'
import type { Show } from '@glowchart/shared/show/schema.ts'
import type { Situation } from '@glowchart/shared/trigger/deed.ts'
import type { Touch } from '@glowchart/shared/trigger/trigger.ts'
import { monotonicMs } from './now.ts'

/** A port that cannot be had is tried again so often, ms. */
const RETRY = 2000
/** More messages in a second than hands make: what comes above is passed over, so that the lights never wait. */
const MOST_A_SECOND = 1000

export interface OscWork {
  /** The show and where it is; null before there is any. */
  now(): { show: Show; situation: Situation } | null
  press(transport: Transport): void
  setLive(live: LivePatch): void
  /** An address that is not ours, as a trigger. */
  touch(touch: Touch, at: number): void
}

export interface OscEar {
  /** Hears there from now on; undefined: nowhere. */
  listen(where: OscIn | undefined): void
  status(): OscStatus
  close(): void
}

export function createOsc(work: OscWork): OscEar {
  let wanted: OscIn | undefined
  let socket: Socket | null = null
  let port = 0
  let fault = ''
  let passedOver = ''
  let heard: OscHeard | null = null
  let retry: NodeJS.Timeout | undefined
  let second = { began: 0, count: 0 }

  const open = (where: OscIn): void => {
    const fresh = createSocket('udp4')
    socket = fresh
    fresh.on('message', hear)
    fresh.on('listening', () => {
      port = fresh.address().port
      fault = ''
    })
    fresh.on('error', error => {
      if (socket !== fresh) return
      fault = explain(error, where)
      end()
      retry = setTimeout(() => open(where), RETRY)
      retry.unref()
    })
    fresh.bind({ port: where.port, address: where.address, exclusive: true })
  }

  const end = (): void => {
    clearTimeout(retry)
    socket?.close()
    socket = null
    port = 0
  }

  function hear(bytes: Uint8Array, { address, port: from }: RemoteInfo): void {
    const at = monotonicMs()
    const sender = `${address}:${from}`
    try {
      passedOver = ''
      for (const message of messagesOf(decodeOsc(bytes, sender))) {
        if (at - second.began >= 1000) second = { began: at, count: 0 }
        if (++second.count > MOST_A_SECOND)
          passedOver = `More than ${MOST_A_SECOND} messages a second: some were passed over.`
        else take(message, sender, at)
      }
    } catch (error) {
      if (!(error instanceof CodedError)) throw error
      passedOver = `What ${sender} sent was passed over: ${error.message}. ${error.problem.remedy}`
    }
  }

  /** Bundles are done as they come: the clocks of two stage computers seldom agree on what their time tags say. */
  function take(message: OscMessage, from: string, at: number): void {
    const now = work.now()
    const { address, args } = message
    const note = (does: string): void => {
      heard = { at, from, address, args: args.map(words).join(' '), does }
    }
    if (!now) return note('No show is open')
    if (!address.startsWith(OUR_ADDRESSES)) return note(asTrigger(message, at))
    const deeds = oscDeeds(message, now.show, now.situation)
    note(deeds.map(deed => deed.says).join(', '))
    for (const { presses, live } of deeds) {
      for (const one of presses) work.press(one)
      if (live) work.setLive(live)
    }
  }

  function asTrigger({ address, args }: OscMessage, at: number): string {
    if (!oscAddress.safeParse(address).success) return 'A trigger’s address is no pattern'
    const value = numberOf(args[0])
    const input = { from: 'osc', address } as const
    work.touch({ input, down: value === null || (value ?? 0) > 0.5 }, at)
    // Nobody will tell when a press without a value is over.
    if (value === null) work.touch({ input, down: false }, at)
    return 'To the triggers'
  }

  return {
    listen(where) {
      if (sameValue(where, wanted)) return
      wanted = where
      end()
      fault = passedOver = ''
      if (where) open(where)
    },
    status: () => ({ port, says: fault || passedOver, heard }),
    close: end,
  }
}

const words = (arg: OscArgument): string => {
  switch (arg.type) {
    case 's':
      return arg.value.slice(0, 40)
    case 'b':
      return `${arg.value.length} octets`
    case 'f':
    case 'd':
      return String(Math.round(arg.value * 1000) / 1000)
    case 'i':
    case 'h':
      return String(arg.value)
    default:
      return arg.type
  }
}

function explain(error: Error, { address, port }: OscIn): string {
  const { code } = error as NodeJS.ErrnoException
  if (code === 'EADDRINUSE')
    return `Another program on this laptop uses UDP ${port}: close it, or choose another port.`
  if (code === 'EADDRNOTAVAIL')
    return `This laptop does not have the address ${address} now: plug that adapter in, or choose another.`
  if (code === 'EACCES')
    return `This laptop does not let Glowchart listen on UDP ${port}: choose another port.`
  return `Listening on UDP ${port} failed (${code ?? error.message}).`
}
