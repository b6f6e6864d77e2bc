// What the laptop that leads shows, as this one's own transport and ways out.

import { contains, isLoopback, type LocalInterface } from '@glowchart/shared/network/ipv4.ts'
import type { Output } from '@glowchart/shared/show/output.ts'
import { bpmAt, secondsAt } from '@glowchart/shared/time/tempo.ts'
import type { Beat } from '@glowchart/shared/understudy/beat.ts'
import type { Mirror } from '../engine/loop-messages.ts'
import type { Piece } from '../engine/player.ts'
import { keyOf } from '../output/streams.ts'

/**
 * A song on MIDI clock goes on here on the internal clock at the tempo it has there, unless this laptop hears that
 * clock too (`heard`).
 */
export function mirrorOf(beat: Beat, origin: number | null, piece: Piece | null): Mirror {
  const { transport, live, house, rate } = beat
  const same = { origin, rate, live, house }
  if (transport.source === 'internal' || transport.look !== null || !piece || piece.song !== transport.song)
    return { ...same, transport, heard: null }
  const { tempo } = piece.compiled.timeline
  const written = bpmAt(tempo, beat.position)
  const offset = (piece.compiled.venue.lightOffset * rate) / 1000
  return {
    ...same,
    transport: {
      ...transport,
      source: 'internal',
      speed: beat.clock.bpm > 0 ? beat.clock.bpm / written : 1,
      shift: 0,
      anchor: { frame: beat.frame - offset, songFrame: secondsAt(tempo, beat.position) * rate },
      rest: beat.position,
    },
    // What a hand has moved under time code is not in the transport.
    heard: transport.source === 'mtc' && transport.shift !== 0 ? null : transport,
  }
}

/**
 * The same ways out from here: where the other names one of its own addresses, ours on that network is meant. Two of its
 * addresses may be one of ours, or none: what is the same way out then goes out once.
 */
export function outputHere(output: Output, interfaces: readonly LocalInterface[]): Output {
  const routes = output.routes.map(({ via, ...route }) => {
    const own = via && interfaces.find(one => !isLoopback(one.address) && contains(one, via))
    return own ? { ...route, via: own.address } : via && isLoopback(via) ? { ...route, via } : route
  })
  const keys = routes.map(keyOf)
  return { ...output, routes: routes.filter((_, i) => keys.indexOf(keys[i]!) === i) }
}
