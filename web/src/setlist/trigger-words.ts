// Triggers in words: what is pressed, and what it asks for.

import type { Show } from '@glowchart/shared/show/schema.ts'
import type { Action } from '@glowchart/shared/trigger/action.ts'
import type { Input } from '@glowchart/shared/trigger/trigger.ts'

export function inputWords(input: Input): string {
  switch (input.from) {
    case 'key':
      return input.key === ' ' ? 'Key Space' : `Key ${input.key}`
    case 'note':
      return `Note ${input.note}, ${channelWords(input.channel)}`
    case 'control':
      return `Controller ${input.control}, ${channelWords(input.channel)}`
    case 'program':
      return `Program ${input.program + 1}, ${channelWords(input.channel)}`
    case 'songSelect':
      return `Song select ${input.song + 1}`
    case 'osc':
      return `OSC ${input.address}`
  }
}

const channelWords = (channel: number | null): string =>
  channel === null ? 'any channel' : `channel ${channel}`

const plain = {
  next: 'Next',
  back: 'Back',
  stop: 'Stop, hold the look',
  repeat: 'Repeat the section, leave the repeat',
  sectionOn: 'A section on',
  sectionBack: 'A section back',
  songOn: 'Make the next song ready',
  songBack: 'Make the song before ready',
  tapTempo: 'Tap the tempo',
  nudgeOn: 'Nudge the song on',
  nudgeBack: 'Nudge the song back',
  house: 'House look',
  strobeStop: 'Stop the strobes',
  blackout: 'Blackout while held',
} as const

export function actionWords(action: Action, show: Show): string {
  switch (action.do) {
    case 'bump':
      return `Bump ${show.parts[action.part]?.name ?? 'a part that is gone'} while held`
    case 'song':
      return `Make ${show.songs[action.song]?.title ?? 'a song that is gone'} ready`
    case 'section':
      return 'Jump to a section'
    case 'master': {
      const of =
        action.part === undefined ? 'Grand master' : (show.parts[action.part]?.name ?? 'A part that is gone')
      return `${of} ${action.by < 0 ? 'down' : 'up'} ${Math.round(100 * Math.abs(action.by))} %`
    }
    default:
      return plain[action.do]
  }
}
