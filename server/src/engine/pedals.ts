// Pedals at the engine's MIDI ports: they act without any page, by the same answer that the page shows.

import { type MidiParser, midiParser, parseByte } from '@glowchart/shared/clock/parser.ts'
import type { MidiIn, Transport } from '@glowchart/shared/messages.ts'
import type { LivePatch } from '@glowchart/shared/render/live.ts'
import { songByNumber } from '@glowchart/shared/set/steps.ts'
import type { Show } from '@glowchart/shared/show/schema.ts'
import { deedOf, type Situation } from '@glowchart/shared/trigger/deed.ts'
import { actionFor, fourButtons, type Input, type Touch, touchOf } from '@glowchart/shared/trigger/trigger.ts'

/** A switch that bounces closes again within this time, ms (common practice, no source). */
const BOUNCE = 60

export interface Pedals {
  /** Bytes of one port, as they came. */
  hear(midi: MidiIn): void
  /** One press or letting go, from elsewhere; `at` in ms of the machine's monotonic clock. */
  touch(touch: Touch, at: number): void
}

export interface PedalWork {
  /** The show and where it is; null before there is any. */
  now(): { show: Show; situation: Situation } | null
  press(transport: Transport): void
  setLive(live: LivePatch): void
  /** Ticks since a Start that is a moment old: a song that is named now begins there. */
  sinceStart(at: number): number
  /** Something was pressed. */
  touched(input: Input): void
}

export function createPedals(work: PedalWork): Pedals {
  const parsers = new Map<string, MidiParser>()
  /** By input: when it was pressed last, and what letting go of it does. */
  const pressed = new Map<string, { at: number; letGo: LivePatch | undefined }>()

  const touch = ({ input, down }: Touch, at: number): void => {
    const key = JSON.stringify(input)
    const before = pressed.get(key)
    if (!down) {
      if (before?.letGo) work.setLive(before.letGo)
      if (before) pressed.set(key, { at: before.at, letGo: undefined })
      return
    }
    if (before && at - before.at < BOUNCE) return
    pressed.set(key, { at, letGo: undefined })
    work.touched(input)
    const now = work.now()
    const action = now && actionFor(now.show.triggers ?? fourButtons, input)
    const song = now && !action ? songByNumber(now.show, input) : null
    if (song) work.press({ do: 'song', ...song, at: work.sinceStart(at) })
    if (!action) return
    const deed = deedOf(action, now.show, now.situation)
    pressed.set(key, { at, letGo: deed.letGo })
    for (const one of deed.presses) work.press(one)
    if (deed.live) work.setLive(deed.live)
  }

  return {
    touch,
    hear({ port, at, bytes }) {
      let parser = parsers.get(port) ?? midiParser
      for (const byte of bytes) {
        const heard = parseByte(parser, byte, at)
        parser = heard.parser
        const touched = heard.message && touchOf(heard.message)
        if (touched) touch(touched, at)
      }
      parsers.set(port, parser)
    },
  }
}
