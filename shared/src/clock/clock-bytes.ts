// The messages of a clock as bytes again: for whoever hears several ports and passes on what one of them said.

import type { MidiMessage } from './parser.ts'
import { songPositionBytes } from './sender.ts'

/** The bytes of a message that a clock is made of; null for notes and the like, which say nothing of time. */
export function clockBytes(message: MidiMessage): readonly number[] | null {
  switch (message.type) {
    case 'clock':
      return [0xf8]
    case 'start':
      return [0xfa]
    case 'continue':
      return [0xfb]
    case 'stop':
      return [0xfc]
    case 'activeSensing':
      return [0xfe]
    case 'songPosition':
      return songPositionBytes(message.sixteenths)
    case 'quarterFrame':
      return [0xf1, message.data]
    case 'sysEx':
      return [0xf0, ...message.bytes, 0xf7]
    default:
      return null
  }
}
