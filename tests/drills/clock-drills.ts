// Drills of the click: a MIDI clock that starts twice, stops and goes on, is repeated, goes away, comes back, jumps back.

import { setTimeout as sleep } from 'node:timers/promises'
import { monotonicMs } from '@glowchart/server/engine/now.ts'
import type { Drill, Figure } from './drill.ts'
import { burstFigure, SONG, wireFigures } from './playing.ts'
import { worstError } from './position.ts'
import {
  CONTINUE,
  type Playing,
  placeOf,
  playMidi,
  pulses,
  START,
  STOP,
  songPosition,
  type Timed,
  timeOf,
} from './sequencer.ts'
import { onStage, PERIOD, type Stage, until } from './stage.ts'

const BAR = 3840
/** Time from now to the first byte. */
const AHEAD = 300
/** Start and Continue come this long before their first pulse, so that its jitter takes none before them, ms. */
const BEFORE = 5
/** A follower has half a second, about a beat, before its place is judged. */
const SETTLED = 500

const PLACE = 'accepted latency of music, Thom & Nelson, ICMC 2004'

const placeFigure = (what: string, value: number, atMost = 10, source = PLACE): Figure => ({
  what,
  value,
  unit: 'ms',
  limit: { atMost },
  source,
})

/** Chooses a song under the MIDI clock, and empties what has been heard and told. */
async function underMidi(stage: Stage, song = SONG): Promise<void> {
  await stage.press({ do: 'song', song, at: 0 })
  await stage.press({ do: 'clock', source: 'midi' })
  await stage.status(one => one.song === song && one.clock.source === 'midi')
  await stage.receiver.forget()
  stage.told.frames.length = stage.told.statuses.length = stage.told.resumes.length = 0
}

/** Continue at a place, as a sequencer that was moved there sends it. */
const continueAt = (place: number, at: number): Timed[] => [
  { at: at - 20, bytes: songPosition(place) },
  { at: at - BEFORE, bytes: [CONTINUE] },
]

/** The largest step of the song against the wall clock between two frames, as a factor; and the largest step back, ms. */
function steps(stage: Stage, tempo: Playing['tempo'], from: number, to: number) {
  const frames = stage.told.frames.filter(({ due }) => due >= from && due <= to)
  let fastest = 0
  let back = 0
  for (let i = 1; i < frames.length; i++) {
    const [a, b] = [frames[i - 1]!, frames[i]!]
    const songMs =
      timeOf({ tempo, place: 0, at: 0 }, b.position) - timeOf({ tempo, place: 0, at: 0 }, a.position)
    fastest = Math.max(fastest, songMs / (b.due - a.due))
    back = Math.max(back, -songMs)
  }
  return { fastest, back }
}

export const clickTwice: Drill = {
  name: 'click-twice',
  title: 'The click is started, started again 60 ms later, and once more in the song: the last start counts',
  run: ({ short }) =>
    onStage(async stage => {
      await underMidi(stage)
      const tempo = stage.tempoOf(SONG)
      const at = monotonicMs() + AHEAD
      const seconds = short ? 2000 : 5000
      const first: Playing = { tempo, place: 0, at: at + 60 }
      const again: Playing = { tempo, place: 0, at: first.at + seconds }
      const end = again.at + seconds
      await playMidi(stage.link, [
        { at: at - BEFORE, bytes: [START] },
        ...pulses({ tempo, place: 0, at }, at + 50),
        { at: first.at - BEFORE, bytes: [START] },
        ...pulses(first, again.at - 2 * BEFORE),
        { at: again.at - BEFORE, bytes: [START] },
        ...pulses(again, end),
      ])
      await until(end)
      const { starts } = stage.told.resumes.at(-1)!.follower
      await stage.receiver.look()
      const { frames } = stage.told
      return [
        {
          what: 'song starts seen',
          value: starts,
          unit: '',
          limit: { exactly: 2 },
          source: 'two starts within 100 ms are one',
        },
        placeFigure(
          'position error after the double start',
          worstError(frames, tempo, t => placeOf(first, t), first.at + SETTLED, again.at - 50),
        ),
        placeFigure(
          'position error after the start in the song',
          worstError(frames, tempo, t => placeOf(again, t), again.at + SETTLED, end),
        ),
        ...wireFigures(stage),
      ]
    }),
}

export const stopContinue: Drill = {
  name: 'stop-continue',
  title:
    'The click stops in mid-song for 2 s and continues: the look stands, then the song goes on from there',
  run: ({ short }) =>
    onStage(async stage => {
      await underMidi(stage)
      const tempo = stage.tempoOf(SONG)
      const at = monotonicMs() + AHEAD
      const playing: Playing = { tempo, place: 24 * BAR, at }
      // Half way between two pulses, so that their jitter takes none past the Stop.
      const last = Math.ceil(placeOf(playing, at + (short ? 1500 : 4000)) / 40) * 40
      const stop = timeOf(playing, last - 20)
      const on: Playing = { tempo, place: last, at: stop + 2000 }
      const end = on.at + (short ? 1500 : 4000)
      await playMidi(stage.link, [
        ...continueAt(playing.place, at),
        ...pulses(playing, stop),
        { at: stop, bytes: [STOP] },
        { at: on.at - BEFORE, bytes: [CONTINUE] },
        ...pulses(on, end),
      ])
      await until(end)
      const { frames } = stage.told
      const held = frames.filter(({ due }) => due > stop + 100 && due < on.at - 50)
      const places = held.map(({ position }) => position)
      await stage.receiver.look()
      const lit = stage.receiver.packets.filter(packet => packet.at > stop + 150 && packet.at < on.at - 50)
      return [
        placeFigure(
          'error of the place where it stands',
          worstError(frames, tempo, () => placeOf(playing, stop), stop + 100, on.at - 50),
        ),
        {
          what: 'movement while it stands',
          value: Math.max(...places) - Math.min(...places),
          unit: 'ticks',
          limit: { exactly: 0 },
          source: 'MIDI 1.0: Stop',
        },
        {
          what: 'different lights while it stands',
          value: new Set(lit.map(({ levels }) => Buffer.from(levels).toString('latin1'))).size,
          unit: '',
          limit: { exactly: 1 },
          source: 'a stopped clock holds the look',
        },
        placeFigure(
          'position error after Continue',
          worstError(frames, tempo, t => placeOf(on, t), on.at + SETTLED, end),
        ),
        ...wireFigures(stage),
      ]
    }),
}

export const chorusAgain: Drill = {
  name: 'chorus-again',
  title:
    'The chorus is repeated live under a running click, shortened, and left: the click goes on, the chart goes back',
  run: () =>
    onStage(async stage => {
      await underMidi(stage)
      const tempo = stage.tempoOf(SONG)
      const [from, to] = [24 * BAR, 40 * BAR]
      const at = monotonicMs() + AHEAD
      const playing: Playing = { tempo, place: to - BAR, at }
      const end = timeOf(playing, to + 5 * BAR)
      const midi = playMidi(stage.link, [...continueAt(playing.place, at), ...pulses(playing, end)])
      await stage.press({ do: 'loop', span: { from, to } })
      // In the first bar of the repeat, only two bars of it are wanted once more.
      await stage.status(one => one.repeated?.times === 1)
      await stage.press({ do: 'loop', span: { from, to: from + 2 * BAR } })
      await stage.status(one => one.repeated?.times === 2)
      await stage.press({ do: 'loop', span: null })
      await midi
      await until(end)
      await stage.receiver.look()
      const { frames } = stage.told
      const first = timeOf(playing, to)
      const second = timeOf(playing, to + 2 * BAR)
      const written = (time: number): number => {
        const clock = placeOf(playing, time)
        return clock - (time < first ? 0 : time < second ? to - from : to - from + 2 * BAR)
      }
      return [
        placeFigure(
          'position error before the repeat',
          worstError(frames, tempo, written, at + SETTLED, first - 50),
        ),
        placeFigure(
          'position error in the repeat, from its second frame',
          worstError(frames, tempo, written, first + 2 * PERIOD, second - 50),
        ),
        placeFigure(
          'position error after the second, left at its end',
          worstError(frames, tempo, written, second + 2 * PERIOD, end),
        ),
        {
          what: 'times it went back',
          value: stage.told.statuses.at(-1)!.repeated?.times ?? 0,
          unit: '',
          limit: { exactly: 2 },
          source: 'pressed twice',
        },
        ...wireFigures(stage),
      ]
    }),
}

/** The sequencer is a little faster than the song is written. */
const FASTER = 1.02

export const midiGone5: Drill = {
  name: 'midi-gone-5s',
  title:
    'The MIDI cable is out for 5 s, the click 2 % faster than written: free wheel, an alarm, no jump at the return',
  run: ({ short }) =>
    onStage(async stage => {
      await underMidi(stage)
      const tempo = stage.tempoOf(SONG)
      const at = monotonicMs() + AHEAD
      const playing: Playing = { tempo, place: 24 * BAR, at, speed: FASTER }
      const gone = at + (short ? 3000 : 6000)
      const back = gone + 5000
      const end = back + 4000
      const all = pulses(playing, end).filter(one => one.at < gone || one.at >= back)
      const midi = playMidi(stage.link, [...continueAt(playing.place, at), ...all])
      await until(gone)
      const alarm = await stage.status(one => one.clock.lock === 'lost')
      await midi
      await until(end)
      await stage.receiver.look()
      const { frames } = stage.told
      const truth = (time: number): number => placeOf(playing, time)
      const { fastest, back: steppedBack } = steps(stage, tempo, back - 100, end)
      return [
        {
          what: 'alarm after',
          value: alarm.at - gone,
          unit: 'ms',
          limit: { atMost: 500 },
          source: 'our own: a beat or less at 120',
        },
        placeFigure(
          'position error at the end of the 5 s',
          worstError(frames, tempo, truth, back - 200, back - 10),
          50,
          'our own: a follower that knows the tempo to 1 %',
        ),
        {
          what: 'fastest step at the return',
          value: fastest,
          unit: '× the tempo',
          limit: { atMost: 2.05 },
          source: 'our own: slewed to at 0.5 to 2 times, never jumped to',
        },
        {
          what: 'largest step back',
          value: steppedBack,
          unit: 'ms',
          limit: { exactly: 0 },
          source: 'our own: never back except on a relocate',
        },
        placeFigure(
          'position error 1 s after the return',
          worstError(frames, tempo, truth, back + 1000, end),
        ),
        ...wireFigures(stage),
      ]
    }),
}

export const midiGone: Drill = {
  name: 'midi-gone',
  title: 'The MIDI cable is out for good, near the end of the song: it plays on to its end and stands there',
  run: () =>
    onStage(async stage => {
      await underMidi(stage)
      const { show } = stage.page.hello
      const tempo = stage.tempoOf(SONG)
      const length = show.songs[SONG]!.sectionOrder.reduce(
        (sum, id) => sum + show.songs[SONG]!.sections[id]!.bars * BAR,
        0,
      )
      const at = monotonicMs() + AHEAD
      const playing: Playing = { tempo, place: length - 6 * BAR, at }
      const gone = timeOf(playing, length - 4 * BAR)
      const over = timeOf(playing, length)
      await playMidi(stage.link, [...continueAt(playing.place, at), ...pulses(playing, gone)])
      const ended = await stage.status(one => one.position >= length - 1)
      await sleep(500)
      await stage.receiver.look()
      const { frames } = stage.told
      const first = frames.find(({ position }) => position >= length)
      return [
        placeFigure(
          'position error in the last bar, 3 bars alone',
          worstError(frames, tempo, t => placeOf(playing, t), over - 2000, over - 50),
          50,
          'our own: a follower that knows the tempo to 1 %',
        ),
        placeFigure(
          'the song ends off by',
          Math.abs((first?.due ?? Number.NaN) - over),
          50 + PERIOD,
          'the same, and one frame',
        ),
        {
          what: 'clock lost is told at the end',
          value: Number(['lost', 'waiting', 'stopped'].includes(ended.clock.lock)),
          unit: '',
          limit: { exactly: 1 },
          source: 'an alarm stays until pulses are back',
        },
        ...wireFigures(stage),
      ]
    }),
}

export const clockBack: Drill = {
  name: 'clock-back',
  title: 'The sequencer is moved back by eight bars in mid-song: stop, song position, continue',
  run: ({ short }) =>
    onStage(async stage => {
      await underMidi(stage)
      const tempo = stage.tempoOf(SONG)
      const at = monotonicMs() + AHEAD
      const playing: Playing = { tempo, place: 32 * BAR, at }
      const stop = at + (short ? 1500 : 3000)
      const on: Playing = { tempo, place: 24 * BAR, at: stop + 250 }
      const end = on.at + (short ? 1500 : 4000)
      await playMidi(stage.link, [
        ...continueAt(playing.place, at),
        ...pulses(playing, stop),
        { at: stop, bytes: [STOP] },
        ...continueAt(on.place, on.at),
        ...pulses(on, end),
      ])
      await until(end)
      await stage.receiver.look()
      const { frames } = stage.told
      return [
        placeFigure(
          'position error before',
          worstError(frames, tempo, t => placeOf(playing, t), at + SETTLED, stop - 10),
        ),
        placeFigure(
          'position error from the second frame after the move',
          worstError(frames, tempo, t => placeOf(on, t), on.at + 2 * PERIOD, end),
        ),
        burstFigure(stage, stage.receiver.packets),
        ...wireFigures(stage),
      ]
    }),
}
