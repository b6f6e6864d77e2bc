// The open port of a laptop that pairs: heartbeats by UDP, pairing and the show by TCP, a code while one is shown.

import type { Server } from 'node:net'
import type { LocalInterface } from '@glowchart/shared/network/ipv4.ts'
import type { Told } from '@glowchart/shared/understudy/beat.ts'
import type { Kept } from '@glowchart/shared/understudy/channel.ts'
import { answerAt, type NewPartner } from './answering.ts'
import { recordingOf } from './fetching.ts'
import { ownName, PORT } from './kept.ts'
import { newCode, plainCode } from './pairing.ts'
import { announce } from './search.ts'
import { openPairSocket, type PairSocket } from './socket.ts'

const REOPEN_MS = 1000
const CODE_LASTS = 5 * 60_000

export interface DoorOptions {
  dataFolder: string
  now: () => number
  interfaces: () => LocalInterface[]
  kept(): Kept
  /** The pair's secret: the same object as long as it is the same. */
  key(): Buffer | null
  tellCode(code: string): void
  heard(told: Told, from: { address: string }, at: number): void
  /** It has opened, or the partner was started anew: whoever sends needs to know. */
  opened(): void
  paired(partner: NewPartner): void
  show(): string | null
}

export interface Door {
  /** Null while it is closed. */
  readonly socket: PairSocket | null
  /** Why it does not open, in plain words; empty when it does. */
  readonly fault: string
  /** Ms; null while no code counts. */
  readonly codeUntil: number | null
  /** Opens at what is kept, or closes where it is to be shut; tries again while the adapter is away. */
  open(): void
  close(): void
  showCode(): void
  endCode(): void
}

export function pairDoor(options: DoorOptions): Door {
  const { now } = options
  let socket: PairSocket | null = null
  let answering: Server | null = null
  let announcing: { stop(): void } | null = null
  let reopening: NodeJS.Timeout | undefined
  let code: { shown: string; until: number } | null = null
  let fault = ''

  const door: Door = {
    get socket() {
      return socket
    },
    get fault() {
      return fault
    },
    get codeUntil() {
      if (code && now() > code.until) door.endCode()
      return code?.until ?? null
    },
    open() {
      door.close()
      const { on, via, port, id } = options.kept()
      if (!on) return
      const failed = (error: Error): void => {
        fault = `The port ${via}:${port} does not open: ${error.message}`
        door.close()
        reopening = setTimeout(door.open, REOPEN_MS)
      }
      socket = openPairSocket({
        via,
        port,
        now,
        key: options.key,
        partnerPort: () => options.kept().partner?.port ?? PORT,
        heard: options.heard,
        greeted: options.opened,
        failed,
      })
      socket.socket.once('listening', () => {
        fault = ''
        options.opened()
      })
      const asked = {
        id,
        name: ownName(),
        code: () => (door.codeUntil !== null && code ? plainCode(code.shown) : null),
        spent: door.endCode,
        paired: options.paired,
        secretOf: (asker: string) => (options.kept().partner?.id === asker ? options.key() : null),
        show: options.show,
        recording: (file: string) => recordingOf(options.dataFolder, file),
      }
      answering = answerAt(via, port, asked, failed)
    },
    close() {
      clearTimeout(reopening)
      door.endCode()
      socket?.close()
      socket = null
      answering?.close()
      answering = null
    },
    showCode() {
      door.endCode()
      const { id, via, port } = options.kept()
      code = { shown: newCode(), until: now() + CODE_LASTS }
      options.tellCode(code.shown)
      const at = options.interfaces().find(({ address }) => address === via)
      if (socket && at) {
        announcing = announce(socket.socket, { glowchart: 'understudy', id, name: ownName(), port }, at)
      }
    },
    endCode() {
      code = null
      announcing?.stop()
      announcing = null
    },
  }
  return door
}
