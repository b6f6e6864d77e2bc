// What docs/motions.md says of each motion, and the settings its picture is drawn with.

import type { MotionKind } from '@glowchart/shared/light/schema.ts'

export interface MotionPage {
  readonly title: string
  /** How it reads on a stage. */
  readonly says: string
  readonly formula: string
  /** The picture's settings; what is left out is as the schema has it. */
  readonly motion: { readonly kind: MotionKind; readonly rate?: { ticks: number } } & Record<string, unknown>
  readonly colours: unknown
}

const stops = (along: 'part' | 'motion', ...hexes: string[]) => ({
  along,
  stops: hexes.map((hex, i) => ({ at: i / (hexes.length - 1), colour: { hex } })),
})

const BAR = 3840
const BEAT = 960

export const motionPages: readonly MotionPage[] = [
  {
    title: 'Sustain',
    says: 'The light stands. Everything else is a way of leaving this; come back to it often.',
    formula: 'm = 1',
    motion: { kind: 'sustain' },
    colours: stops('part', '#ffd9a0', '#e0602a', '#7a1f4a'),
  },
  {
    title: 'Swell',
    says: 'Light that comes up and goes down like breath, dark at the start of the cycle. With spread it passes through the part as a slow wave; with spread 0 the whole part breathes at once. Low shape lingers at both ends and moves quickly between.',
    formula:
      'u = frac(P − S·x); v = |2u − 1|^(ln ½ / ln D); c = ½ + ½·cos(πv); m = 1 / (1 + ((1 − c)/c)^k), k = 1 + 3(1 − shape)². D is the share of the cycle above half (held within 0.03…0.97). At D = ½ and shape 1 it is a raised cosine.',
    motion: { kind: 'swell', rate: { ticks: 2 * BAR }, spread: 0.5, shape: 1 },
    colours: stops('motion', '#b01020', '#ffb050'),
  },
  {
    title: 'Chase',
    says: 'Windows of light run along the part, the next entering as the last one leaves. It takes one cycle for any number of fixtures. Spread is how many windows are under way at once, duty how long each fixture is lit, shape how soft the edges are.',
    formula:
      'u = frac(P − T·x); m = window(u): 1 inside D of the cycle from u = 0, edges are raised cosines that take shape · min(D, 1 − D), half-way at 0 and D. T = S on a part that closes in a ring; else T = S − D·min(1, S), so that one end goes out as the other lights.',
    motion: { kind: 'chase', rate: { ticks: BAR }, duty: 0.2 },
    colours: stops('motion', '#3020c0', '#60e0ff'),
  },
  {
    title: 'Sway',
    says: 'A crest of light swings to and fro, slow at the turns like a lamp on a rope. Duty is its width as a share of the part; with spread above 1 the part falls into stretches that each have a crest of their own.',
    formula:
      'y = ½ − ½·cos(2πP); x′ is the place within one of ⌈S⌉ stretches, S·x − min(⌈S⌉ − 1, ⌊S·x⌋); m = a window of width D around y, at distance |x′ − y|, edges as in the chase.',
    motion: { kind: 'sway', rate: { ticks: 2 * BAR }, duty: 0.4, shape: 1 },
    colours: stops('motion', '#004a60', '#90ffe0'),
  },
  {
    title: 'Answer',
    says: 'Neighbouring groups take turns: one calls, the next answers. Spread chooses two groups or more. A duty of one turn hands over without a gap, more overlaps, less leaves rests.',
    formula:
      'G = max(2, 1 + round(S)) groups, g = min(G − 1, ⌊G·x⌋); u = frac(P − g/G); m = window(u) as in the chase.',
    motion: { kind: 'answer', rate: { ticks: BAR }, spread: 3, duty: 0.3, shape: 0.6 },
    colours: stops('motion', '#901050', '#ffa0b0'),
  },
  {
    title: 'Scatter',
    says: 'Single lights flare up here and there and die away. Duty is how many of them, shape how they die: 0 stays to the end of its step, 1 is a spark. With spread 0 all step together on the beat; with 1 each has its own moment.',
    formula:
      'u = P − min(1, S)·h(e), h a hash of seed and element e; in step ⌊u⌋ the element is lit when the hash of seed, e and step is below D; m = (1 − frac(u)^(1/shape))^1.5.',
    motion: { kind: 'scatter', rate: { ticks: BEAT }, duty: 0.4, shape: 1 },
    colours: stops('motion', '#704010', '#fff0d0'),
  },
  {
    title: 'Pulse',
    says: 'A hit at the start of every cycle, dying away: the kick drum of the lights. Duty is how long it rings, shape whether it stands and stops (0), holds and rounds off (½) or drops at once like a struck string (1). A stopped clock shows its mean light.',
    formula: 'u = frac(P − S·x); m = (1 − (u/D)^(1/shape))^1.5 while u < D, else 0.',
    motion: { kind: 'pulse', rate: { ticks: BEAT }, spread: 0, duty: 0.9, shape: 0.8 },
    colours: stops('motion', '#600010', '#ff5040'),
  },
  {
    title: 'Strobe',
    says: 'Hard flashes. Their length is counted in whole frames, so that every flash of a steady tempo is equally long and none beats against the frame rate. Cycles shorter than two frames, a stopped clock and the stop for strobes show its mean light. Flashing light can harm: post notices, and follow the rules of the venue.',
    formula:
      'Cycle k begins at T_k, when P = k + S·x; j is the number of whole frames since the frame that T_k lies in; c is the length of the cycle in frames; m = 1 while j < n, n = round(D·c), at least 1 and at most ⌊c⌋ − 1; else 0. Mean light: D of the full light.',
    motion: { kind: 'strobe', rate: { ticks: BEAT / 2 }, spread: 0, duty: 0.3 },
    colours: stops('part', '#ffffff', '#d8e4ff'),
  },
  {
    title: 'Filament',
    says: 'The slow uneven burning of a warm lamp: mostly bright, sagging now and then. Duty is how deep it sags; shape 1 only wanders, lower shapes shiver as well; spread 0 lets all lamps hang on one wire.',
    formula:
      'n = (n₁ + r·n₃) / (1 + r), r = 1 − shape; n₁ and n₃ are smooth noise of 0…1 with one and three values a cycle, mixed from common to own by min(1, S); m = 1 − D·n².',
    motion: { kind: 'filament', rate: { ticks: BAR / 2 }, duty: 0.8 },
    colours: stops('motion', '#c02800', '#ffb060'),
  },
  {
    title: 'Cascade',
    says: 'Light falls along the part, faster and faster as falling things do, and leaves a tail. Duty is the length of the tail, shape how it fades.',
    formula: 'u = frac(P − T·√x), T as in the chase; m = (1 − (u/D)^(1/shape))^1.5 while u < D, else 0.',
    motion: { kind: 'cascade', rate: { ticks: BAR }, duty: 0.45, shape: 0.8 },
    colours: stops('motion', '#2010a0', '#d0e8ff'),
  },
  {
    title: 'Ring',
    says: 'A drop in water: from the middle of the part a wave runs outward to both ends, a weaker one behind it. Backward and inward run from the ends to the middle.',
    formula:
      'r = |2x − 1| (backward and inward: 1 − r); u = frac(P − S·r); m = max(w(u), ½·w(frac(u − D/2))), w a window of D/2 as in the chase.',
    motion: { kind: 'ring', rate: { ticks: BAR }, duty: 0.5, shape: 1 },
    colours: stops('motion', '#402080', '#ff90e0'),
  },
  {
    title: 'Drift',
    says: 'A slow field of light and dark moves over the part like clouds, never the same twice. Duty is how much of the part is lit, shape how soft the clouds are, spread how many lie along the part.',
    formula:
      'n = ⅔·field(2S·x − P/2, P/2) + ⅓·field(4S·x − P, P), smooth noise over place and time (closed on a ring); m = smoothstep of n from t − w to t + w, t = ½ + 0.8(½ − D), w = 0.05 + 0.28·shape.',
    motion: { kind: 'drift', rate: { ticks: BAR / 2 }, spread: 1.5, duty: 0.55, shape: 1 },
    colours: stops('motion', '#083060', '#70f0b0'),
  },
]
