// What most drills begin and end with: a song is played on the internal clock, and the wire and its light are judged.

import { secondsAt } from '@glowchart/shared/time/tempo.ts'
import { ticks } from '@glowchart/shared/time/units.ts'
import type { Figure } from './drill.ts'
import { lightOf, shownLight } from './position.ts'
import { densest, longestGap, lostOf } from './receiver.ts'
import type { HeardPacket } from './receiver-process.ts'
import { PERIOD, RATE, type Stage } from './stage.ts'

export const SONG = 'porchlight'
const NO_FRAME_LOST = 'fixed rate: every frame is sent; E1.31-2018 6.7.2 numbers them'
const GAP =
  'our own: a quarter of a second, in which a node repeats its last frame; and at either end what the machine let the receiver itself wait'

/** What every drill says of the wire while nothing has died. */
export function wireFigures(stage: Stage): Figure[] {
  const { packets, stall } = stage.receiver
  return [
    { what: 'frames lost', value: lostOf(packets), unit: '', limit: { exactly: 0 }, source: NO_FRAME_LOST },
    {
      what: 'longest gap at the receiver',
      value: longestGap(packets),
      unit: 'ms',
      limit: { atMost: 250 + 2 * stall },
      source: GAP,
    },
    { what: 'longest wait of the receiver itself', value: stall, unit: 'ms', limit: 'tells' },
  ]
}

/** No burst of old frames: as many as are sent in 100 ms and while the receiver had to wait, and a few that were late. */
export function burstFigure({ receiver }: Stage, packets: readonly HeardPacket[]): Figure {
  return {
    what: 'packets a stream in any 100 ms',
    value: densest(packets, 100),
    unit: '',
    limit: { atMost: Math.ceil((100 + receiver.stall) / PERIOD) + 3 },
    source: `${RATE} frames a second, three late ones, and what came while the receiver had to wait`,
  }
}

/** Where it plays from: the chorus, in which much moves. */
const CHORUS = 24 * 3840

/** Plays a song from a place (ticks) on the internal clock; returns when its frame 0 was due or would have been, ms. */
export async function play(
  stage: Stage,
  song = SONG,
  at = CHORUS,
  tempo = stage.tempoOf(song),
): Promise<number> {
  await stage.press({ do: 'song', song, at })
  await stage.receiver.forget()
  stage.told.frames.length = 0
  await stage.press({ do: 'play' })
  await stage.status(one => one.playing && one.position > at)
  const { due, position } = stage.told.frames.find(({ playing }) => playing)!
  return due - secondsAt(tempo, ticks(position)) * 1000
}

/** When the song that plays has moved for two frames, ms. */
export const begun = ({ told }: Stage): number => told.frames.find(({ playing }) => playing)!.due + 2 * PERIOD

/** What the light at the receiver says of the place, over the packets that came from a time on. */
export function lightFigures(stage: Stage, zero: number, from = begun(stage)): Figure[] {
  return lightOfFigures(stage, lightOf(stage.page.hello, SONG), zero, from)
}

/** The same against light of other documents, until a time. */
export function lightOfFigures(
  stage: Stage,
  light: readonly Buffer[],
  zero: number,
  from: number,
  to = Number.POSITIVE_INFINITY,
): Figure[] {
  const heard = stage.receiver.packets.filter(({ at }) => at >= from && at < to)
  const shown = shownLight(heard, light, zero)
  return [
    {
      what: 'packets with a light that is not of the song',
      value: shown.wrong,
      unit: '',
      limit: { exactly: 0 },
      source: 'a frame is a pure function of the position',
    },
    {
      what: 'position error read off the light',
      value: shown.worst,
      unit: 'ms',
      limit: { atMost: 3 * PERIOD + stage.receiver.stall },
      source: 'our own: three frames, and as long as the machine let the receiver itself wait',
    },
    {
      what: 'different lights compared',
      value: shown.different,
      unit: '',
      limit: { atLeast: 20 },
      source: 'a still stage would tell nothing',
    },
  ]
}
