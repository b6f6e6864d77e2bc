// The preferences: how this browser likes to see things. Saved on this browser, never in the show.

import { create } from 'zustand'
import { persist } from 'zustand/middleware'
import { inThisBrowser, isWhole, type RightIf, rightOf } from './in-this-browser.ts'

/** Bars a line; `page` fits the song on the page. */
export const zooms = [4, 8, 16, 32, 'page'] as const
export type Zoom = (typeof zooms)[number]

/** What edges on the chart snap to; `zoom`: what goes with the bars a line. */
export const snaps = ['zoom', 'bar', 'beat', 'eighth', 'sixteenth', 'triplet', 'off'] as const
export type Snap = (typeof snaps)[number]

interface Preferences {
  zoom: Zoom
  snap: Snap
  /** Shows strobes in the preview as they are sent, instead of held to three flashes a second. */
  rawStrobes: boolean
  /** What taps come too late by, ms: taken off their times. */
  tapLatency: number
  /** Keys that are one character and nothing held act; off for who speaks to the computer (W3C WCAG 2.2 SC 2.1.4). */
  characterKeys: boolean
  /** What this page plays while a song runs; levels 0…1. */
  sound: Sound
  /** Where it plays to: this browser's id and name of an output; null: the system's own. */
  audioDevice: { readonly id: string; readonly name: string } | null
  /** How lengths are said and typed; the documents hold metres. */
  lengths: 'metres' | 'feet'
}

export interface Sound {
  score: boolean
  scoreLevel: number
  click: boolean
  clickLevel: number
  /** Bars counted before the song moves. */
  countIn: 0 | 1 | 2
}

const freshSound: Sound = { score: true, scoreLevel: 0.8, click: false, clickLevel: 0.7, countIn: 0 }

const isFlag = (value: unknown): boolean => typeof value === 'boolean'
const isWithin = (least: number, most: number) => (value: unknown) =>
  typeof value === 'number' && value >= least && value <= most
const isOneOf = (values: readonly unknown[]) => (value: unknown) => values.includes(value)
const isText = (value: unknown): boolean => typeof value === 'string'

const isRight: RightIf<Preferences> = {
  zoom: isOneOf(zooms),
  snap: isOneOf(snaps),
  rawStrobes: isFlag,
  characterKeys: isFlag,
  tapLatency: isWithin(0, 500),
  sound: value =>
    isWhole<Sound>(value, {
      score: isFlag,
      scoreLevel: isWithin(0, 1),
      click: isFlag,
      clickLevel: isWithin(0, 1),
      countIn: isOneOf([0, 1, 2]),
    }),
  audioDevice: value => value === null || isWhole(value, { id: isText, name: isText }),
  lengths: isOneOf(['metres', 'feet']),
}

export const usePreferences = create<Preferences>()(
  persist(
    (): Preferences => ({
      zoom: 16,
      snap: 'zoom',
      rawStrobes: false,
      characterKeys: true,
      tapLatency: 0,
      sound: freshSound,
      audioDevice: null,
      lengths: 'metres',
    }),
    {
      name: 'glowchart.preferences',
      version: 1,
      storage: inThisBrowser(),
      merge: (kept, fresh) => ({ ...fresh, ...rightOf<Preferences>(kept, isRight) }),
    },
  ),
)

/** One step more (+1) or fewer (−1) bars a line; stays at the ends. */
export function stepZoom(by: 1 | -1): void {
  const at = zooms.indexOf(usePreferences.getState().zoom)
  const zoom = zooms[at + by]
  if (zoom !== undefined) usePreferences.setState({ zoom })
}

/** Changes what this page plays. */
export function setSound(change: Partial<Sound>): void {
  usePreferences.setState(({ sound }) => ({ sound: { ...sound, ...change } }))
}
