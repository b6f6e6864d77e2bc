// What the house's desk holds over the show: blackout and master from its slots, kept when it is lost, released by hand.

import { type Problem, problem } from '@glowchart/shared/errors.ts'
import type { HouseStatus } from '@glowchart/shared/messages.ts'
import { freeHouse, type House } from '@glowchart/shared/render/live.ts'
import { sameValue } from '@glowchart/shared/show/diff.ts'
import { type HouseInput, housePlace } from '@glowchart/shared/show/house-input.ts'
import type { ArtDmx } from '../output/artnet.ts'
import type { E131 } from '../output/e131.ts'
import { artnetSources, type Sources, sacnSources } from './sources.ts'

/** From here on the slot of the blackout means dark: the upper half of its range, as a switch has it. */
const DARK = 128

export interface Desk {
  /** Listened for from now on; undefined: off, and nothing is held. */
  expect(input: HouseInput | undefined): void
  hearSacn(packet: E131, from: string, now: number): void
  hearArtnet(packet: ArtDmx, from: string, now: number): void
  /** To be called now and then: notices that a source is gone. */
  look(now: number): void
  /** What an engine before this one was held by; what has been heard since is newer. */
  inherit(house: House): void
  /** Lets go of what a lost desk holds. Problems: `house.holds` while it is heard, `house.off`. */
  release(): Problem | undefined
  readonly house: House
  /** `fault`: why nothing can be heard, in plain words. */
  status(fault?: string): HouseStatus
}

/**
 * @param cid this installation's own
 * @param changed called when what is held changes
 */
export function createDesk(cid: Uint8Array, changed: (house: House) => void): Desk {
  let input: HouseInput | undefined
  let sacn: Sources<E131> | null = null
  let artnet: Sources<ArtDmx> | null = null
  let state: HouseStatus['state'] = 'off'
  let house = freeHouse
  let source = ''
  let others = 0

  const hold = (next: House): void => {
    if (sameValue(next, house)) return
    house = next
    changed(house)
  }

  const look = (now: number): void => {
    const current = (sacn ?? artnet)?.current(now)
    if (!current) {
      if (state === 'heard') state = 'lost'
      return
    }
    state = 'heard'
    source = current.source.name.replace(/\p{Cc}/gu, '')
    others = current.others
    const { slots } = current.source
    // A packet may end before a slot: what it does not say stays.
    const dark = input?.blackout === undefined ? 0 : slots[input.blackout - 1]
    const master = input?.master === undefined ? 255 : slots[input.master - 1]
    hold({
      blackout: dark === undefined ? house.blackout : dark >= DARK,
      grand: master === undefined ? house.grand : master / 255,
    })
  }

  return {
    expect(next) {
      if (sameValue(next, input)) return
      input = next
      sacn = next?.from.protocol === 'sacn' ? sacnSources(next.from.universe, cid) : null
      artnet = next?.from.protocol === 'artnet' ? artnetSources(next.from.portAddress) : null
      state = next ? 'waiting' : 'off'
      source = ''
      others = 0
      hold(freeHouse)
    },
    hearSacn(packet, from, now) {
      sacn?.hear(packet, from, now)
      look(now)
    },
    hearArtnet(packet, from, now) {
      artnet?.hear(packet, from, now)
      look(now)
    },
    look,
    inherit(before) {
      if (state !== 'waiting' || sameValue(before, freeHouse)) return
      state = 'lost'
      hold(before)
    },
    release() {
      if (state === 'heard')
        return problem('house.holds', `${source} is heard: what it holds is its own to lift`, 'house')
      if (state !== 'lost') return problem('house.off', 'the house holds nothing', 'house')
      state = 'waiting'
      hold(freeHouse)
      return undefined
    },
    get house() {
      return house
    },
    status(fault = '') {
      return { state, source, ...house, says: [fault, sayState()].filter(text => text !== '').join(' ') }
    },
  }

  function sayState(): string {
    switch (state) {
      case 'off':
        return ''
      case 'waiting':
        return `Nothing is heard from the house on ${housePlace(input!)} yet.`
      case 'heard':
        return others === 0
          ? ''
          : `${source} is listened to; left out on ${housePlace(input!)}: ${others} more.`
      case 'lost':
        return `${source === '' ? 'The house' : source} ${sacn?.ended ? 'has ended its stream' : 'is no longer heard'} on ${housePlace(input!)}; ${heldWords(house)}.`
    }
  }
}

const heldWords = ({ blackout, grand }: House): string => {
  if (blackout) return 'its blackout is held'
  return grand < 1 ? `its master is held at ${Math.round(grand * 100)} %` : 'it held nothing'
}
