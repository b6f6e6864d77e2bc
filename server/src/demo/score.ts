// How the demo writes music: drums as rows of strokes, tunes and chords as names of notes, each a pattern that repeats.

import type { phraseSchema, Voice } from '@glowchart/shared/show/song.ts'
import type { SectionText, SongText } from './chart.ts'
import type { Written } from './written.ts'

export type PhraseText = Written<typeof phraseSchema>

/** Keys of the General MIDI percussion map (General MIDI 1). */
const drumKeys = {
  kick: 36,
  rim: 37,
  snare: 38,
  floor: 41,
  hat: 42,
  pedal: 44,
  tom: 45,
  open: 46,
  high: 48,
  crash: 49,
  ride: 51,
  shaker: 70,
} as const
const strokes: Readonly<Record<string, number>> = { X: 118, x: 94, o: 62 }

/** Rows of strokes, one a step of so many ticks: `X` loud, `x`, `o` soft, `.` none; bars and spaces are for the eye. */
export function drums(
  at: number,
  length: number,
  step: number,
  rows: Partial<Record<keyof typeof drumKeys, string>>,
): PhraseText {
  const plain = Object.entries(rows).map(([drum, row]) => [drum, row.replace(/[|\s]/g, '')] as const)
  const notes = plain.flatMap(([drum, row]) =>
    [...row].flatMap((stroke, i): PhraseText['notes'] => {
      const velocity = strokes[stroke]
      return velocity ? [[i * step, step, drumKeys[drum as keyof typeof drumKeys], velocity]] : []
    }),
  )
  return phrase('drums', at, length, Math.max(...plain.map(([, row]) => row.length)) * step, notes)
}

/**
 * Notes by name, one a step of so many ticks: `C4` (middle C), `A3+C4+E4` together, `-` holds, `.` rests; `!` after it
 * is loud, `?` soft.
 */
export function tune(voice: Voice, at: number, length: number, step: number, text: string): PhraseText {
  const steps = text.split(/[|\s]+/).filter(Boolean)
  const notes: PhraseText['notes'] = []
  for (const [i, written] of steps.entries()) {
    if (written === '.' || written === '-') continue
    let held = 1
    while (steps[i + held] === '-') held++
    const velocity = written.endsWith('!') ? 108 : written.endsWith('?') ? 58 : 84
    for (const name of written.replace(/[!?]/, '').split('+')) {
      notes.push([i * step, held * step, keyOf(name), velocity])
    }
  }
  return phrase(voice, at, length, steps.length * step, notes)
}

const phrase = (
  voice: Voice,
  at: number,
  length: number,
  every: number,
  notes: PhraseText['notes'],
): PhraseText => ({
  voice,
  at,
  length,
  every,
  notes: notes.sort(([a], [b]) => Number(a) - Number(b)),
})

const naturals: Readonly<Record<string, number>> = { C: 0, D: 2, E: 4, F: 5, G: 7, A: 9, B: 11 }
const signs: Readonly<Record<string, number>> = { '#': 1, b: -1, '': 0 }

function keyOf(name: string): number {
  const [, letter, sign, octave] = /^([A-G])([#b]?)(\d)$/.exec(name) ?? []
  if (!letter) throw new Error(`"${name}" is no note`)
  return 12 * (Number(octave) + 1) + naturals[letter]! + signs[sign!]!
}

/** A song with music in its sections; those that are copies play their source's. */
export function scored(song: SongText, score: Readonly<Record<string, PhraseText[]>>): SongText {
  const sections = Object.entries(song.sections).map(([id, section]): [string, SectionText] => [
    id,
    score[id] ? { ...section, score: score[id] } : section,
  ])
  return { ...song, sections: Object.fromEntries(sections) }
}
