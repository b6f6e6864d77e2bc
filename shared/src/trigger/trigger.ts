// Triggers: which key, note, controller, program change, song select or OSC address asks for which action.

import { z } from 'zod'
import type { MidiMessage } from '../clock/parser.ts'
import { oscAddress } from '../osc/schema.ts'
import { type Action, actionSchema } from './action.ts'

const seven = z.int().min(0).max(127)
/** 1…16, as it is printed on devices; null: any. */
const channel = z.int().min(1).max(16).nullable()

const inputSchema = z.discriminatedUnion('from', [
  /** A key of a computer keyboard (or of a pedal that types), by its name in the W3C UI Events key values. */
  z.object({ from: z.literal('key'), key: z.string().min(1).max(32) }),
  z.object({ from: z.literal('note'), channel, note: seven }),
  /** Down from the middle of its range (64) on, as a switch is (MIDI 1.0, controllers 64 to 69; from memory). */
  z.object({ from: z.literal('control'), channel, control: seven }),
  z.object({ from: z.literal('program'), channel, program: seven }),
  z.object({ from: z.literal('songSelect'), song: seven }),
  /** Open Sound Control. Down at values above 0.5; a message without a value is pressed and let go of at once. */
  z.object({ from: z.literal('osc'), address: oscAddress }),
])
export type Input = z.infer<typeof inputSchema>

export const triggerSchema = z.object({ input: inputSchema, action: actionSchema })
export type Trigger = z.infer<typeof triggerSchema>

const pedal = (key: string, note: number, action: Action): Trigger[] => [
  { input: { from: 'key', key }, action },
  { input: { from: 'note', channel: 16, note }, action },
]

/**
 * A pedal with four buttons: back, stop, next, and blackout while held. By keys for one that types (page-turners send
 * Page Up and Page Down: common practice, no source), by notes 60 to 63 on channel 16, away from what is played.
 */
export const fourButtons: readonly Trigger[] = [
  ...pedal('PageUp', 60, { do: 'back' }),
  ...pedal('End', 61, { do: 'stop' }),
  ...pedal('PageDown', 62, { do: 'next' }),
  ...pedal('Home', 63, { do: 'blackout' }),
]

/** An input that was pressed, or let go of. Program changes and song selects are only ever pressed. */
export interface Touch {
  readonly input: Exclude<Input, { from: 'key' }>
  readonly down: boolean
}

/** What a MIDI message is as a touch; null for clock and the like. */
export function touchOf(message: MidiMessage): Touch | null {
  switch (message.type) {
    case 'noteOn':
    case 'noteOff': {
      const { channel, note } = message
      // A note on with velocity 0 is a note off (MIDI 1.0, from memory).
      const down = message.type === 'noteOn' && message.velocity > 0
      return { input: { from: 'note', channel: channel + 1, note }, down }
    }
    case 'controlChange': {
      const { channel, control, value } = message
      return { input: { from: 'control', channel: channel + 1, control }, down: value >= 64 }
    }
    case 'programChange':
      return {
        input: { from: 'program', channel: message.channel + 1, program: message.program },
        down: true,
      }
    case 'songSelect':
      return { input: { from: 'songSelect', song: message.song }, down: true }
    default:
      return null
  }
}

/** The action of an input; null when it has none. Of several, the first. */
export function actionFor(triggers: readonly Trigger[], input: Input): Action | null {
  return triggers.find(trigger => matches(trigger.input, input))?.action ?? null
}

function matches(wanted: Input, got: Input): boolean {
  if (wanted.from === 'key') return got.from === 'key' && got.key === wanted.key
  if (wanted.from === 'songSelect') return got.from === 'songSelect' && got.song === wanted.song
  if (wanted.from === 'osc') return got.from === 'osc' && got.address === wanted.address
  if (got.from === 'key' || got.from === 'songSelect' || got.from === 'osc') return false
  if (wanted.channel !== null && wanted.channel !== got.channel) return false
  return numberOf(wanted) === numberOf(got) && wanted.from === got.from
}

type Numbered = Exclude<Input, { from: 'key' | 'songSelect' | 'osc' }>

const numberOf = (input: Numbered): number =>
  input.from === 'note' ? input.note : input.from === 'control' ? input.control : input.program
