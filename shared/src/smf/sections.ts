// Where the sections of a song from a Standard MIDI File begin and end.

import { CodedError } from '../errors.ts'
import type { Ticks } from '../time/units.ts'
import { type Bars, nearestBar, songTick } from './bars.ts'
import type { SmfSong } from './read.ts'
import { nameOf } from './text.ts'

/** Bars in a section where the file has no markers. */
const UNMARKED_BARS = 16
/** What a section of the show document may hold. */
const MOST = { bars: 999, marks: 256, meters: 64 }

/** Bars of the file that make one section. */
export interface Stretch {
  readonly name: string
  /** Song ticks of its start. */
  readonly at: Ticks
  /** Its first bar, 0-based, and how many. */
  readonly bar: number
  readonly bars: number
  /** Its tempo marks: the first of them in the song's list, and how many. */
  readonly firstMark: number
  readonly marks: number
}

/**
 * Cuts the bars into sections at the markers, and where a section would hold too much.
 * @throws CodedError `smf.tooMany` where one bar alone has more than 256 tempo marks
 */
export function stretchesOf(
  smf: SmfSong,
  layout: Bars,
  marks: readonly { readonly at: Ticks }[],
  where: string,
): { stretches: Stretch[]; said: string[] } {
  const { names, ended } = namesOf(smf, layout)
  const { bars, end } = layout
  const stretches: Stretch[] = []
  let open = { name: '', piece: 1, bar: 0, firstMark: 0, marks: 0, meters: 0 }
  let mark = 0
  const close = (bar: number): void => {
    if (bar === 0) return
    const name = open.piece === 1 ? open.name : nameOf(`${open.name.slice(0, 72)} (${open.piece})`, open.name)
    const { firstMark, marks } = open
    stretches.push({ name, at: bars[open.bar]!.at, bar: open.bar, bars: bar - open.bar, firstMark, marks })
  }
  for (const bar of bars.keys()) {
    const firstMark = mark
    const barEnd = bars[bar + 1]?.at ?? end
    while (mark < marks.length && marks[mark]!.at < barEnd) mark++
    if (mark - firstMark > MOST.marks) {
      const says = `bar ${bar + 1} has ${mark - firstMark} tempo changes; ${MOST.marks} are the most`
      throw new CodedError('smf.tooMany', says, where)
    }
    const name = names.get(bar)
    const full =
      bar - open.bar >= MOST.bars || mark - open.firstMark > MOST.marks || open.meters >= MOST.meters
    if (name !== undefined || full) {
      close(bar)
      const piece = name === undefined ? open.piece + 1 : 1
      open = { name: name ?? open.name, piece, bar, firstMark, marks: 0, meters: 0 }
    }
    open.marks = mark - open.firstMark
    if (bar > 0 && changesMeter(layout, bar)) open.meters++
  }
  close(bars.length)
  const said = ended.map(text => `A marker at the end, "${text}", opens no section.`).slice(0, 3)
  return { stretches, said }
}

function changesMeter({ bars }: Bars, bar: number): boolean {
  const now = bars[bar]!.meter
  const before = bars[bar - 1]!.meter
  return now.beats !== before.beats || now.unit !== before.unit
}

/** The names of sections by the bar they begin with (bar 0 among them), and the markers at the song's end. */
function namesOf(smf: SmfSong, layout: Bars): { names: Map<number, string>; ended: string[] } {
  const names = new Map<number, string>()
  const ended: string[] = []
  for (const [i, { at, text }] of smf.markers.entries()) {
    const bar = nearestBar(layout, songTick(smf, at))
    const name = nameOf(text, `Section ${i + 1}`)
    const before = names.get(bar)
    if (bar === layout.bars.length) ended.push(name)
    else names.set(bar, before === undefined || before === name ? name : nameOf(`${before} / ${name}`, name))
  }
  if (names.size === 0) {
    for (let bar = 0; bar < layout.bars.length; bar += UNMARKED_BARS) {
      names.set(bar, `Section ${bar / UNMARKED_BARS + 1}`)
    }
  } else if (!names.has(0)) names.set(0, 'Start')
  return { names, ended }
}
