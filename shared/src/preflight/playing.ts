// The checks of what makes the songs run: frames, clock, MIDI ports, pedals.

import { counted, listText } from '../advice/words.ts'
import { fourButtons, type Input, type Trigger } from '../trigger/trigger.ts'
import type { Facts } from './facts.ts'
import type { Row } from './row.ts'

const NO_ENGINE = 'The light engine does not answer.'
/** Of so many frames one may be late before it is worth a word: common practice, no source. */
const ONE_LATE_IN = 1000

export function framesRow({ status }: Facts): Row {
  const row = { id: 'frames', checked: 'Frames are on time' } as const
  if (!status) {
    return {
      ...row,
      result: 'stop',
      says: NO_ENGINE,
      remedy: 'Wait a second: it is started again by itself. If it does not come, start Glowchart again.',
    }
  }
  const { rendered, late, skipped, rate, errorP99 } = status.frames
  if (rendered < rate * 10)
    return { ...row, result: 'unknown', says: 'It has only just begun: too few frames to tell.' }
  const measured = `${rate} a second; 99 of 100 within ${errorP99.toFixed(errorP99 < 1 ? 2 : 1)} ms`
  if (skipped > 0 || late * ONE_LATE_IN > rendered) {
    return {
      ...row,
      result: 'heed',
      says: `${counted(late, 'frame')} late and ${skipped} left out of ${rendered}. ${measured}.`,
      remedy:
        'Close what else works on this laptop, plug in its mains, and look again; the count starts with the engine.',
    }
  }
  return { ...row, result: 'good', says: `${measured}; none left out of ${rendered}.` }
}

export function clockRow({ status }: Facts): Row {
  const row = { id: 'clock', checked: 'The clock' } as const
  if (!status) return { ...row, result: 'unknown', says: NO_ENGINE }
  const { source, lock, bpm, estimated, jitter } = status.clock
  if (source === 'internal')
    return { ...row, result: 'good', says: 'The songs run on this laptop’s own clock.' }
  const tempo = bpm > 0 ? `, ${bpm.toFixed(1)} beats a minute` : ''
  switch (lock) {
    case 'locked':
      if (estimated) {
        return {
          ...row,
          result: 'heed',
          says: `Locked${tempo}, but nothing has said where in the song it is.`,
          remedy: 'Let the other side send its song position, or start it once from the song’s start.',
          mend: { do: 'go', place: 'run' },
        }
      }
      return { ...row, result: 'good', says: `Locked${tempo}, jitter ${jitter.toFixed(1)} ms.` }
    case 'stopped':
      return { ...row, result: 'good', says: 'It has been heard, and has been stopped at the other side.' }
    case 'locking':
      return { ...row, result: 'unknown', says: `It is heard${tempo}, and not locked yet.` }
    case 'lost':
      return {
        ...row,
        result: 'stop',
        says: 'It was heard, and is gone: the song runs on at the last tempo.',
        remedy: 'Check the cable and the other side’s clock, or choose the own clock.',
        mend: { do: 'go', place: 'run' },
      }
    default:
      return {
        ...row,
        result: 'heed',
        says: 'A clock from outside is chosen, and none has been heard yet.',
        remedy: 'Start the other side once to see it come in, or choose the own clock.',
        mend: { do: 'go', place: 'run' },
      }
  }
}

export function portsRow({ status, show }: Facts): Row {
  const row = { id: 'ports', checked: 'MIDI and network ports' } as const
  if (!status) return { ...row, result: 'unknown', says: NO_ENGINE }
  const { available, ports, says } = status.midi
  const triggers = show.triggers ?? []
  const byNetwork = triggers.filter(trigger => trigger.input.from === 'osc')
  if (byNetwork.length > 0 && (status.osc.port === 0 || status.osc.says !== '')) {
    return {
      ...row,
      result: 'stop',
      says: `${counted(byNetwork.length, 'trigger')} of this show come by Open Sound Control, and it is not heard. ${status.osc.says}`,
      remedy: 'Switch it on, on the set list page, at the port that the other side sends to.',
      mend: { do: 'go', place: 'setlist' },
    }
  }
  const learned = triggers.filter(trigger => !['key', 'osc'].includes(trigger.input.from))
  const needs = learned.length > 0 || status.clock.source !== 'internal'
  if (ports.length > 0) return { ...row, result: 'good', says: `Open: ${listText(ports)}.` }
  const why = says === '' ? '' : ` ${says}`
  if (!needs)
    return { ...row, result: 'good', says: `No port is open, and nothing of this show needs one.${why}` }
  return {
    ...row,
    result: 'stop',
    says:
      learned.length > 0
        ? `${counted(learned.length, 'trigger')} of this show come by MIDI, and no port is open.${why}`
        : `The clock should come by MIDI, and no port is open at the server.${why}`,
    remedy: available
      ? 'Plug the device in: it is opened by itself. Or learn keys in its place on the set list page.'
      : 'Use a browser that opens MIDI ports, or learn keys in place of MIDI on the set list page.',
    mend: { do: 'go', place: 'setlist' },
  }
}

/** A pedal cannot answer: it has been heard, or nobody knows. */
export function pedalsRow({ show, server, page }: Facts): Row {
  const row = { id: 'pedals', checked: 'Pedals and keys have been pressed' } as const
  const triggers = show.triggers ?? fourButtons
  if (triggers.length === 0) {
    return {
      ...row,
      result: 'heed',
      says: 'This show has no pedals and no keys of its own.',
      remedy: 'Learn some on the set list page, or play from the run page.',
      mend: { do: 'go', place: 'setlist' },
    }
  }
  const heard = triggers.filter(trigger => isHeard(trigger, server?.touched ?? [], page.keys))
  const byAction = (some: readonly Trigger[]) => new Set(some.map(trigger => JSON.stringify(trigger.action)))
  const [all, pressed] = [byAction(triggers), byAction(heard)]
  if (pressed.size === all.size) {
    return { ...row, result: 'good', says: `All ${all.size} were heard since the start.` }
  }
  return {
    ...row,
    result: 'unknown',
    says: `${pressed.size} of ${all.size} were heard since the start. A pedal that has not been pressed cannot be told from one that is not there.`,
    remedy: 'Press each of them once, on this page.',
  }
}

function isHeard({ input }: Trigger, touched: readonly Input[], keys: readonly string[]): boolean {
  if (input.from === 'key') return keys.includes(input.key)
  return touched.some(one => {
    if (one.from === 'key') return false
    const wild = 'channel' in input && input.channel === null && 'channel' in one
    return JSON.stringify(wild ? { ...one, channel: null } : one) === JSON.stringify(input)
  })
}
