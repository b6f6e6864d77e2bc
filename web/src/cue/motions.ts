// What each motion is set by, in its own words, and how it begins when it is chosen.

import type { Motion, MotionKind } from '@glowchart/shared/light/schema.ts'
import { ticks } from '@glowchart/shared/time/units.ts'

interface MotionWords {
  /** What is begun with; the rest is the cue's. */
  readonly begins: Pick<Motion, 'rate' | 'spread' | 'duty' | 'shape'>
  /** Cycles that its small picture shows. */
  readonly cycles: number
  /** What the spread counts along the part; null: it says how far apart, 0…100 %. */
  readonly counts: string | null
  /** What the duty is here. */
  readonly duty?: string
  readonly direction?: true
  readonly shape?: true
  readonly seed?: true
}

const BEAT = 960
const BAR = 4 * BEAT
const notes = (length: number): Motion['rate'] => ({ ticks: ticks(length) })

/** Sustain has no settings. A strobe begins under three flashes a second (WCAG 2.2, 2.3.1). */
export const motionWords: Record<Exclude<MotionKind, 'sustain'>, MotionWords> = {
  swell: {
    begins: { rate: notes(2 * BAR), spread: 0.5, duty: 0.5, shape: 1 },
    cycles: 2,
    counts: 'wave',
    duty: 'Breath',
    direction: true,
    shape: true,
  },
  chase: {
    begins: { rate: notes(BAR), spread: 1, duty: 0.2, shape: 0.5 },
    cycles: 2,
    counts: 'run',
    duty: 'Lit',
    direction: true,
    shape: true,
  },
  sway: {
    begins: { rate: notes(2 * BAR), spread: 1, duty: 0.4, shape: 1 },
    cycles: 2,
    counts: 'crest',
    duty: 'Width',
    direction: true,
    shape: true,
  },
  answer: {
    begins: { rate: notes(BAR), spread: 1, duty: 0.5, shape: 0.4 },
    cycles: 2,
    counts: 'turn',
    duty: 'Lit',
    direction: true,
    shape: true,
  },
  scatter: {
    begins: { rate: notes(BEAT), spread: 1, duty: 0.4, shape: 1 },
    cycles: 8,
    counts: null,
    duty: 'How many',
    shape: true,
    seed: true,
  },
  pulse: {
    begins: { rate: notes(BEAT), spread: 0, duty: 0.9, shape: 0.8 },
    cycles: 4,
    counts: 'wave',
    duty: 'Tail',
    direction: true,
    shape: true,
  },
  strobe: {
    begins: { rate: { hz: 2.5 }, spread: 0, duty: 0.2, shape: 0 },
    cycles: 5,
    counts: 'wave',
    duty: 'Lit',
    direction: true,
  },
  filament: {
    begins: { rate: notes(2 * BEAT), spread: 1, duty: 0.8, shape: 0.5 },
    cycles: 6,
    counts: null,
    duty: 'Dips',
    shape: true,
    seed: true,
  },
  cascade: {
    begins: { rate: notes(BAR), spread: 1, duty: 0.45, shape: 0.8 },
    cycles: 2,
    counts: 'fall',
    duty: 'Tail',
    direction: true,
    shape: true,
  },
  ring: {
    begins: { rate: notes(BAR), spread: 1, duty: 0.5, shape: 1 },
    cycles: 2,
    counts: 'wave',
    duty: 'Width',
    direction: true,
    shape: true,
  },
  drift: {
    begins: { rate: notes(2 * BEAT), spread: 1.5, duty: 0.55, shape: 1 },
    cycles: 8,
    counts: 'cloud',
    duty: 'Lit',
    direction: true,
    shape: true,
    seed: true,
  },
}

/** The motion that a tile stands for: the one that is set, or another as it begins. */
export function motionAs(kind: MotionKind, now: Motion): Motion {
  if (kind === now.kind) return now
  return { ...now, kind, ...(kind === 'sustain' ? {} : motionWords[kind].begins) }
}

export const titled = (word: string): string => word[0]!.toUpperCase() + word.slice(1)
