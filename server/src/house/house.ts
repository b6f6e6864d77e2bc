// The house input in the engine: the desk's rules on the network, as the kit that stands tonight asks for it.

import type { Problem } from '@glowchart/shared/errors.ts'
import type { HouseStatus } from '@glowchart/shared/messages.ts'
import type { House } from '@glowchart/shared/render/live.ts'
import { sameValue } from '@glowchart/shared/show/diff.ts'
import { type HouseInput, sharesUniverse } from '@glowchart/shared/show/house-input.ts'
import type { Route } from '@glowchart/shared/show/output.ts'
import type { ArtDmx } from '../output/artnet.ts'
import { createDesk } from './desk.ts'
import { hearSacn, localAddresses, type SacnEar } from './listen.ts'

/** How soon a loss is noticed after its time is over, ms. */
const LOOK = 100

export interface HouseEar {
  /** The kit's wish; undefined: off. */
  listen(input: HouseInput | undefined): void
  /** An ArtDmx that came to the one owner of UDP 6454. */
  artDmx(packet: ArtDmx, from: string): void
  /** The Port-Address that is listened for; null: no Art-Net. */
  readonly artnetPort: number | null
  inherit(house: House): void
  release(): Problem | undefined
  readonly house: House
  status(): HouseStatus
  close(): void
}

/** @param clock ms of a monotonic clock */
export function createHouse(options: {
  cid: Uint8Array
  changed: (house: House) => void
  clock: () => number
  /** Why Art-Net cannot be heard. */
  artnetFault: () => string
  /** The ways by which light leaves now. */
  sends: () => readonly Route[]
}): HouseEar {
  const { clock } = options
  const desk = createDesk(options.cid, options.changed)
  let wanted: HouseInput | undefined
  let ear: SacnEar | null = null
  let looking: NodeJS.Timeout | undefined

  const close = (): void => {
    clearInterval(looking)
    ear?.close()
    ear = null
  }

  return {
    listen(input) {
      if (sameValue(input, wanted)) return
      wanted = input
      close()
      desk.expect(input)
      if (!input) return
      if (input.from.protocol === 'sacn')
        ear = hearSacn(input.from, (packet, from) => desk.hearSacn(packet, from, clock()))
      looking = setInterval(() => desk.look(clock()), LOOK).unref()
    },
    artDmx(packet, from) {
      // Art-Net names no sender but its address: what leaves to one of our own comes back, and is not the house.
      const isOwn = wanted && sharesUniverse(wanted, options.sends()) && localAddresses().includes(from)
      if (!isOwn) desk.hearArtnet(packet, from, clock())
    },
    get artnetPort() {
      return wanted?.from.protocol === 'artnet' ? wanted.from.portAddress : null
    },
    inherit: desk.inherit,
    release: desk.release,
    get house() {
      return desk.house
    },
    status: () => desk.status(wanted?.from.protocol === 'artnet' ? options.artnetFault() : ear?.fault),
    close,
  }
}
