// A laptop that takes over a song on a clock which it does not hear itself.

import type { Mirror } from '@glowchart/server/engine/loop-messages.ts'
import type { Player } from '@glowchart/server/engine/player.ts'
import { mirrorOf } from '@glowchart/server/understudy/follow.ts'
import { stoppedTransport } from '@glowchart/shared/clock/transport.ts'
import { freeHouse } from '@glowchart/shared/render/live.ts'
import { ticks } from '@glowchart/shared/time/units.ts'
import type { Beat } from '@glowchart/shared/understudy/beat.ts'
import { describe, expect, it } from 'vitest'
import { livelyShow, pieceOf, playerOn, RATE } from '../engine/lively-player.ts'

const piece = pieceOf(livelyShow())

/** What the other says while its song is at `position`, on MIDI clock at 100 BPM where 120 are written. */
function heardFrom(player: Player, position: number): Mirror {
  const beat: Pick<Beat, 'transport' | 'live' | 'house' | 'rate' | 'frame' | 'position' | 'clock'> = {
    transport: { ...stoppedTransport('song'), playing: true, source: 'midi' },
    live: player.live,
    house: freeHouse,
    rate: RATE,
    frame: 0,
    position: ticks(position),
    clock: { source: 'midi', lock: 'locked', bpm: 100 },
  }
  return mirrorOf(beat as Beat, null, piece)
}

/** Ticks a frame. */
function pace(player: Player, frame: number): number {
  const at = (n: number) => (n * 1000) / RATE
  player.render(frame, at(frame))
  const before = player.position
  player.render(frame + 1, at(frame + 1))
  return player.position - before
}

describe('a song on MIDI clock, taken over by a laptop without that clock', () => {
  it('goes on at the clock’s last tempo, and the next song has its own', () => {
    const player = playerOn(piece)
    const { transport, live, house } = heardFrom(player, 960)
    player.mirror(transport, live, house)
    // 120 BPM written: 48 ticks a frame; 100 of them heard: 40.
    expect(pace(player, 10)).toBeCloseTo(40, 6)
    player.take({ ...piece, song: 'next' }, 20, 0)
    player.press({ do: 'play' }, 20)
    expect(pace(player, 21)).toBeCloseTo(48, 6)
  })
})
