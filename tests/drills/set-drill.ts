// The long drill: a whole set runs unattended in real time, under a load that changes, received on loopback.

import { mkdtempSync, rmSync } from 'node:fs'
import { tmpdir } from 'node:os'
import { join } from 'node:path'
import { setTimeout as sleep } from 'node:timers/promises'
import { monotonicMs } from '@glowchart/server/engine/now.ts'
import { timelineOf } from '@glowchart/shared/time/timeline.ts'
import { within } from '../bench/figures.ts'
import { processesOf } from '../support/processes.ts'
import type { Drill, Figure } from './drill.ts'
import { changingLoad } from './load.ts'
import { type Notes, notesIn, probed, type Sample, slopeOf } from './memory.ts'
import { lightOf, type ShownLight, shownLight } from './position.ts'
import { type Playing, playMidi, pulses, START, timeOf } from './sequencer.ts'
import { onStage, PERIOD, RATE, type Stage } from './stage.ts'
import { type Tally, tally } from './tally.ts'

const PHASE_SECONDS = 60
const LOOK = 1000
const FLAT = 'our own: flat; a show of three hours must not grow by what a laptop lacks'

interface SongEnd {
  title: string
  clock: 'internal' | 'midi'
  /** When the song stood at its end, against when it should have, ms. */
  error: number
  shown: ShownLight | null
}

/** Plays one song to its end, or until there is no time left (null). */
async function playSong(
  stage: Stage,
  song: string,
  clock: SongEnd['clock'],
  until: number,
  tallied: Tally,
): Promise<SongEnd | null> {
  const written = stage.page.hello.show.songs[song]!
  const timeline = timelineOf(written)
  const { tempo, length } = timeline
  const vamp = timeline.sections.find(section => section.vamp)
  await stage.press({ do: 'song', song, at: 0 })
  await stage.press({ do: 'clock', source: clock })
  stage.told.frames.length = 0
  let zero: number
  let midi: Promise<void> = Promise.resolve()
  if (clock === 'midi') {
    const playing: Playing = { tempo, place: 0, at: monotonicMs() + 300 }
    zero = playing.at
    const last = Math.min(timeOf(playing, length) + 200, until)
    midi = playMidi(stage.link, [{ at: zero - 5, bytes: [START] }, ...pulses(playing, last)])
    await stage.status(one => one.playing)
  } else {
    await stage.press({ do: 'play' })
    await stage.status(one => one.playing && one.position > 0)
    zero = stage.told.frames.find(({ playing }) => playing)!.due
  }
  const end = timeOf({ tempo, place: 0, at: zero }, length)
  const light = clock === 'internal' ? lightOf(stage.page.hello, song) : null
  const shown: ShownLight = { packets: 0, different: 0, wrong: 0, worst: 0 }
  let asked = false
  while (monotonicMs() < Math.min(end + LOOK, until)) {
    await sleep(LOOK)
    const heard = await tallied.look()
    if (light)
      add(
        shown,
        shownLight(
          heard.filter(({ at }) => at > zero + 2 * PERIOD && at < end - PERIOD),
          light,
          zero,
        ),
      )
    const here = stage.told.statuses.at(-1)!
    stage.told.statuses.length = stage.told.resumes.length = 0
    stage.told.statuses.push(here)
    // The frames of the last seconds are enough to find the end in.
    stage.told.frames.splice(0, Math.max(0, stage.told.frames.length - 4 * RATE))
    if (vamp && !asked && here.position >= vamp.start && here.position < vamp.end) {
      asked = true
      await stage.press({ do: 'release' })
    }
  }
  await midi
  if (end > until) return null
  const first = stage.told.frames.find(({ position }) => position >= length)
  return { title: written.title, clock, error: (first?.due ?? Number.NaN) - end, shown: light && shown }
}

function add(sum: ShownLight, { packets, different, wrong, worst }: ShownLight): void {
  sum.packets += packets
  sum.different += different
  sum.wrong += wrong
  sum.worst = Math.max(sum.worst, worst)
}

/** Of fewer minutes no slope an hour can be told; array buffers wait for the great sweeping, minutes apart. */
const LEAST_MINUTES = { resident: 10, heap: 10, external: 60 }

/** What was held at the end and how fast it grew. */
function memoryFigures(what: string, held: readonly Sample[], atMost: number | null): Figure[] {
  return [
    { what: `${what} at the end`, value: held.at(-1)?.value ?? Number.NaN, unit: 'MB', limit: 'tells' },
    {
      what: `${what}, slope`,
      value: slopeOf(held),
      unit: 'MB/h',
      limit: atMost === null ? 'tells' : { atMost },
      source: FLAT,
    },
  ]
}

/** Resident memory of a process, and what each of its threads holds; limits in MB an hour, that of `young` in MB. */
export function processFigures(
  name: string,
  pid: number,
  notes: Notes,
  minutes: number,
  atMost: { resident: number; heap: number; external: number; young?: number },
): Figure[] {
  const limit = (what: keyof typeof LEAST_MINUTES): number | null =>
    minutes < LEAST_MINUTES[what] ? null : atMost[what]
  const each = (what: 'heap' | 'external'): Figure[] =>
    notes.threads(pid, what).flatMap((held, thread) => {
      const where = `${what}${what === 'heap' ? '' : ' memory'} of the ${name}`
      return memoryFigures(thread > 0 ? `${where}, thread ${thread}` : where, held, limit(what))
    })
  const resident = notes.process(pid, 'resident')
  const young = notes.threads(pid, 'young').flatMap(held => held.map(({ value }) => value))
  return [
    {
      what: `memory of the ${name} for what was just made, the largest of a thread`,
      value: young.reduce((a, b) => Math.max(a, b), 0),
      unit: 'MB',
      limit: atMost.young === undefined ? 'tells' : { atMost: atMost.young },
      source: 'our own: bounded, as V8 lets it grow when the machine is busy',
    },
    ...memoryFigures(`resident memory of the ${name}`, resident, limit('resident')),
    ...each('heap'),
    ...each('external'),
  ]
}

export const set: Drill = {
  name: 'set',
  title:
    'A set runs unattended in real time (songs in turn on the internal clock and on MIDI clock) while pages, edits and busy processors come and go',
  async run({ minutes }) {
    const folder = mkdtempSync(join(tmpdir(), 'glowchart-drill-'))
    const heaps = join(folder, 'heaps.jsonl')
    try {
      return await onStage(stage => measure(stage, minutes, heaps), [], probed(heaps))
    } finally {
      rmSync(folder, { recursive: true, force: true })
    }
  },
}

async function measure(stage: Stage, minutes: number, heaps: string): Promise<Figure[]> {
  const { app, engine } = processesOf(stage.served)
  const { songOrder } = stage.page.hello.show
  const began = monotonicMs()
  const until = began + minutes * 60_000
  const watch = setInterval(() => {
    // What this process keeps of the page's messages is the drill's own memory.
    stage.page.messages.length = 0
  }, 2000)
  const tallied = tally(stage.receiver)
  const before = await stage.status(() => true)
  const load = changingLoad(stage.served.url, Math.min(PHASE_SECONDS, (minutes * 60) / 5))
  const ends: SongEnd[] = []
  try {
    for (let i = 0; monotonicMs() < until; i++) {
      const song = songOrder[i % songOrder.length]!
      // An odd number of songs would change clocks by itself; with four, each is met on both from round to round.
      const clock = (i + Math.floor(i / songOrder.length)) % 2 === 0 ? 'internal' : 'midi'
      const end = await playSong(stage, song, clock, until, tallied)
      if (end) {
        ends.push(end)
        process.stderr.write(`set: ${end.title} on ${clock}, off by ${end.error.toFixed(1)} ms at its end\n`)
      }
    }
  } finally {
    clearInterval(watch)
    await load.end()
  }
  await tallied.look()
  const { frames, pid } = await stage.status(() => true)
  const notes = notesIn(heaps)
  const { errors } = tallied
  return [
    { what: 'minutes', value: (monotonicMs() - began) / 60_000, unit: 'min', limit: 'tells' },
    {
      what: 'frames lost, by sequence numbers',
      value: tallied.lost,
      unit: '',
      limit: { exactly: 0 },
      source: 'fixed rate; E1.31-2018 6.7.2',
    },
    {
      what: 'streams begun anew',
      value: tallied.begun,
      unit: '',
      limit: { exactly: 0 },
      source: 'nobody changed the output',
    },
    { what: 'packets received, both protocols', value: tallied.packets, unit: '', limit: 'tells' },
    { what: 'frames rendered', value: frames.rendered - before.frames.rendered, unit: '', limit: 'tells' },
    {
      what: 'frames left out as their time had passed',
      value: frames.skipped - before.frames.skipped,
      unit: '',
      limit: 'tells',
    },
    { what: 'engine: frame off its due time, p50', value: frames.errorP50, unit: 'ms', limit: 'tells' },
    { what: 'engine: frame off its due time, p99', value: frames.errorP99, unit: 'ms', limit: 'tells' },
    { what: 'engine: frame off its due time, max', value: frames.errorMax, unit: 'ms', limit: 'tells' },
    { what: 'receiver: interval off 25 ms, p50', value: within(errors, 0.5), unit: 'ms', limit: 'tells' },
    { what: 'receiver: interval off 25 ms, p99', value: within(errors, 0.99), unit: 'ms', limit: 'tells' },
    {
      what: 'receiver: interval off 25 ms, max',
      value: within(errors, 1),
      unit: 'ms',
      limit: { atMost: 1000 + stage.receiver.stall },
      source: 'our own: never a second without light, beside what the machine let the receiver itself wait',
    },
    { what: 'longest wait of the receiver itself', value: stage.receiver.stall, unit: 'ms', limit: 'tells' },
    {
      what: 'engines started anew',
      value: Number(pid !== engine),
      unit: '',
      limit: { exactly: 0 },
      source: 'unattended',
    },
    { what: 'edits acknowledged meanwhile', value: load.done.edits, unit: '', limit: 'tells' },
    {
      what: 'edits refused',
      value: load.done.refused,
      unit: '',
      limit: { exactly: 0 },
      source: 'nothing was wrong with them',
    },
    { what: 'phases of load', value: load.done.phases, unit: '', limit: 'tells' },
    ...ends.flatMap(({ title, clock, error, shown }, i): Figure[] => [
      {
        what: `song ${i + 1}, ${title} (${clock} clock): end off by`,
        value: Math.abs(error),
        unit: 'ms',
        limit: { atMost: 50 + 2 * PERIOD },
        source: 'our own: a frame is on the grid, the machine may be one late',
      },
      ...(shown
        ? [
            {
              what: `song ${i + 1}: packets with a light that is not of the song`,
              value: shown.wrong,
              unit: '',
              limit: { exactly: 0 },
              source: 'a pure function of the position',
            },
            {
              what: `song ${i + 1}: position error read off the light`,
              value: shown.worst,
              unit: 'ms',
              limit: { atMost: 1000 },
              source: 'our own: the longest that a machine under load may be late',
            },
          ]
        : []),
    ]),
    ...processFigures('engine', engine, notes, minutes, { resident: 30, heap: 5, external: 5, young: 5 }),
    // The app remembers 2000 edits to be taken back: it may grow until it has them.
    ...processFigures('app', app, notes, minutes, { resident: 60, heap: 30, external: 5 }),
  ]
}
