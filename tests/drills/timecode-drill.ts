// Drill of time code: the tape is wound back by eight seconds in mid-song, and its first word chooses the song.

import { monotonicMs } from '@glowchart/server/engine/now.ts'
import { timecodeOf } from '@glowchart/shared/clock/timecode.ts'
import { ticksAt } from '@glowchart/shared/time/tempo.ts'
import { seconds } from '@glowchart/shared/time/units.ts'
import type { Drill, Figure } from './drill.ts'
import { burstFigure, SONG, wireFigures } from './playing.ts'
import { worstError } from './position.ts'
import { type Playing, placeOf, playMidi, type Timed } from './sequencer.ts'
import { onStage, PERIOD, until } from './stage.ts'

/** Of 25 frames a second: quarter frames are 10 ms apart, eight of them stand for two frames (MIDI time code). */
const QUARTER = 10
const QUARTERS = 100
/** The song begins at this hour of the tape, s. */
const HOUR = 3600

/** The label that a quarter frame is a piece of is that of the first of its eight. */
function quarterFrame(q: number): number[] {
  const { hours, minutes, seconds: s, frames } = timecodeOf(Math.floor(q / 8) * 2, '25')
  const nibbles = [frames, frames >> 4, s, s >> 4, minutes, minutes >> 4, hours, (hours >> 4) | 2]
  return [0xf1, ((q % 8) << 4) | (nibbles[q % 8]! & 15)]
}

/** Full frame: F0 7F 7F 01 01 hh mm ss ff F7, with the rate (1: 25) above the hours. */
function fullFrame(second: number): number[] {
  const { hours, minutes, seconds: s, frames } = timecodeOf(second * 25, '25')
  return [0xf0, 0x7f, 0x7f, 0x01, 0x01, hours | (1 << 5), minutes, s, frames, 0xf7]
}

/** The tape from a second of it, at a time (ms), until another. */
const tape = (second: number, at: number, end: number): Timed[] =>
  Array.from({ length: Math.floor((end - at) / QUARTER) }, (_, i) => ({
    at: at + i * QUARTER,
    bytes: quarterFrame(second * QUARTERS + i),
  }))

export const tapeBack: Drill = {
  name: 'tape-back',
  title:
    'Time code (25 frames a second) starts in the chorus, and is wound back by eight seconds in mid-song',
  run: ({ short }) =>
    onStage(async stage => {
      const { show } = stage.page.hello
      const args = { list: show.tonightList, at: 0, timecode: '01:00:00:00' }
      const done = await stage.page.ask({ type: 'edit', edit: 'setSetSong', args })
      if (done.type === 'refused') throw new Error(done.problem.message)
      await stage.press({ do: 'clock', source: 'mtc' })
      await stage.status(one => one.clock.source === 'mtc' && one.revision === done.revision)
      await stage.receiver.forget()
      stage.told.frames.length = 0
      const tempo = stage.tempoOf(SONG)
      const at = monotonicMs() + 300
      const playing = (second: number, from: number): Playing => ({
        tempo,
        place: ticksAt(tempo, seconds(second - HOUR)),
        at: from,
      })
      const first = playing(HOUR + 64, at)
      const back = at + (short ? 2000 : 4000)
      const second = playing(HOUR + 56, back + 200)
      const end = second.at + 4000
      await playMidi(stage.link, [
        ...tape(HOUR + 64, at, back),
        { at: back + 100, bytes: fullFrame(HOUR + 56) },
        ...tape(HOUR + 56, second.at, end),
      ])
      await until(end)
      await stage.receiver.look()
      const { frames } = stage.told
      const error = (what: string, of: Playing, from: number, to: number): Figure => ({
        what,
        value: worstError(frames, tempo, t => placeOf(of, t), from, to),
        unit: 'ms',
        limit: { atMost: 10 },
        source: 'accepted latency of music, Thom & Nelson, ICMC 2004',
      })
      return [
        {
          what: 'the song of that hour stands',
          value: Number(stage.told.statuses.at(-1)!.song === SONG),
          unit: '',
          limit: { exactly: 1 },
          source: 'each song knows its start',
        },
        error('position error before', first, at + 1000, back - 20),
        error(
          'position error half a second after the tape runs again',
          second,
          second.at + 500,
          end - PERIOD,
        ),
        burstFigure(stage, stage.receiver.packets),
        ...wireFigures(stage),
      ]
    }),
}
