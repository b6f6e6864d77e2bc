// Which MIDI port the clock comes from: of several that speak one is kept, so that two clocks never mix.

import { clockBytes } from '@glowchart/shared/clock/clock-bytes.ts'
import { fullFrame } from '@glowchart/shared/clock/mtc-assembly.ts'
import { type MidiMessage, type MidiParser, midiParser, parseByte } from '@glowchart/shared/clock/parser.ts'
import type { MidiIn } from '@glowchart/shared/messages.ts'

export interface ClockInlet {
  /** Bytes of one port, as they came. */
  hear(midi: MidiIn): void
  /** The one port to listen to; null: the first that speaks. */
  choose(port: string | null): void
  /** The port that is listened to now, and those that have spoken as clocks of late; `now` in ms of the engine's clock. */
  status(now: number): { from: string | null; speaking: string[] }
}

/** The first that spoke is kept until it has been silent for so long and another one speaks, ms. */
const KEPT_MS = 5000

/** @param hear gets the clock's messages of the one port, in order */
export function clockInlet(hear: (message: MidiMessage) => void): ClockInlet {
  const parsers = new Map<string, MidiParser>()
  const spoke = new Map<string, number>()
  let chosen: string | null = null
  let kept: string | null = null

  /** Active sensing alone makes no clock, and neither do a keyboard's own messages. */
  const saysTime = (message: MidiMessage): boolean =>
    message.type === 'sysEx' ? fullFrame(message.bytes) !== null : message.type !== 'activeSensing'

  const take = (port: string, message: MidiMessage): void => {
    if (clockBytes(message) === null) return
    if (saysTime(message)) {
      spoke.set(port, message.at)
      const silent = kept === null || message.at - (spoke.get(kept) ?? Number.NEGATIVE_INFINITY) > KEPT_MS
      if (silent) kept = port
    }
    if (port === (chosen ?? kept)) hear(message)
  }

  return {
    hear({ port, at, bytes }) {
      let parser = parsers.get(port) ?? midiParser
      for (const byte of bytes) {
        const heard = parseByte(parser, byte, at)
        parser = heard.parser
        if (heard.message) take(port, heard.message)
      }
      parsers.set(port, parser)
    },
    choose(port) {
      chosen = port
    },
    status(now) {
      const speaking = [...spoke].filter(([, at]) => now - at < KEPT_MS).map(([port]) => port)
      return { from: chosen ?? kept, speaking }
    },
  }
}
