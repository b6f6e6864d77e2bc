// The checks of what is played: tonight's list, its songs, and the version that runs.

import { counted, listText } from '../advice/words.ts'
import { type SetStep, stepsOf } from '../set/steps.ts'
import type { Show } from '../show/schema.ts'
import { changeCount, changesBetween } from '../version/changes.ts'
import type { Facts } from './facts.ts'
import { foundRow, ofKinds } from './found.ts'
import type { Row } from './row.ts'

/** Songs of tonight that the show has, each once, in their order. */
export const songsTonight = (show: Show): string[] => [
  ...new Set(stepsOf(show).flatMap(step => (step.kind === 'song' && show.songs[step.song] ? step.song : []))),
]

export function setRow({ show }: Facts): Row {
  const row = { id: 'set', checked: 'Tonight’s set list' } as const
  const list = show.tonightList === undefined ? undefined : show.setLists[show.tonightList]
  const name = list ? `“${list.name}”` : 'No list is chosen for tonight'
  const steps = stepsOf(show)
  const songs = steps.filter(step => step.kind === 'song')
  const mend = { do: 'go', place: 'setlist' } as const
  const gone = steps.filter(step => isGone(show, step))
  if (show.tonightList !== undefined && !list) {
    return {
      ...row,
      result: 'stop',
      says: 'The list that was chosen for tonight is gone.',
      remedy: 'Choose another one.',
      mend,
    }
  }
  if (gone.length > 0) {
    const names = gone.map(step => (step.kind === 'song' ? `song ${step.number}` : 'a look between songs'))
    return {
      ...row,
      result: 'stop',
      says: `${name} names what the show no longer has: ${listText(names)}.`,
      remedy: 'Take it out of the list, or choose another song or look in its place.',
      mend,
    }
  }
  if (songs.length === 0) {
    return {
      ...row,
      result: 'stop',
      says: list ? `${name} has no songs.` : 'The show has no songs.',
      remedy: list ? 'Add songs to it, or choose another list for tonight.' : 'Write or import a song.',
      mend: list ? mend : { do: 'go', place: 'chart' },
    }
  }
  const silent = songsTonight(show).filter(song => isUnlit(show, song))
  if (silent.length > 0) {
    return {
      ...row,
      result: 'heed',
      says: `${listText(silent.map(song => `“${show.songs[song]!.title}”`))}: no light is written.`,
      remedy: 'Write some light, or let it be roughed in; else the stage stays dark for the whole song.',
      mend: { do: 'go', place: 'chart', song: silent[0]! },
    }
  }
  if (!list && Object.keys(show.setLists).length > 0) {
    return {
      ...row,
      result: 'heed',
      says: `${name}: all ${counted(songs.length, 'song')} are played in their order.`,
      remedy: 'Choose tonight’s list.',
      mend,
    }
  }
  return { ...row, result: 'good', says: `${name}: ${counted(songs.length, 'song')}, nothing missing.` }
}

const isGone = (show: Show, step: SetStep): boolean =>
  step.kind === 'song' ? !show.songs[step.song] : !show.looks[step.look]

const isUnlit = (show: Show, song: string): boolean =>
  Object.values(show.songs[song]!.sections).every(section => Object.keys(section.cues).length === 0)

/** Cues that stay dark on tonight's stage. */
export function songsRow(facts: Facts): Row {
  const row = { id: 'songs', checked: 'Every cue has lights to play on' } as const
  const read = readSongs(facts)
  const dark = read.advice.filter(one => one.kind === 'darkCues')
  if (dark.length === 0 && read.left > 0) return { ...row, result: 'unknown', says: read.says }
  return foundRow(row, ofKinds(dark, ['darkCues']), 'No cue stays dark in the songs of tonight.', 'chart')
}

/** The advice on tonight's songs as far as they have been read. */
export function readSongs({ show, songs }: Facts) {
  const tonight = songsTonight(show)
  const left = tonight.filter(song => !songs[song]).length
  return {
    advice: tonight.flatMap(song => songs[song] ?? []),
    count: tonight.length,
    left,
    says: `${tonight.length - left} of ${counted(tonight.length, 'song')} read so far.`,
  }
}

/** What was published runs; the draft may have gone on since. */
export function versionRow({ rig, show, draft, running, server, status }: Facts): Row {
  const row = { id: 'version', checked: 'The version that runs' } as const
  if (!server || !status)
    return { ...row, result: 'unknown', says: 'Server and engine have not answered yet.' }
  const mend = { do: 'go', place: 'setlist' } as const
  if (!running) {
    return {
      ...row,
      result: 'heed',
      says: 'No version runs: the draft sounds, and every edit is heard at once.',
      remedy: 'Publish a version before doors, and edit beside it.',
      mend,
    }
  }
  const name = `Version ${running.number} (${running.hash.slice(0, 8)}), published ${dateText(running.at, server.offset)}`
  if (status.version !== running.hash) {
    return {
      ...row,
      result: 'stop',
      says: `${name}, should run, but the engine holds something else.`,
      remedy: 'Wait a second; if it stays so, run the version again.',
      mend,
    }
  }
  const changes = changesBetween({ rig, show }, draft)
  const judged = `${name}, was judged here`
  if (changes.length === 0) return { ...row, result: 'good', says: `${judged}. The draft is the same.` }
  return {
    ...row,
    result: 'heed',
    says: `${judged}, and not the draft: ${counted(changeCount(changes), 'change')} since will not play.`,
    more: changes.flatMap(({ title, says }) => says.map(line => `${title}: ${line}`)),
    remedy: 'Take the changes into the version, or leave them for another night.',
    mend,
  }
}

const dateText = (at: string, offset: number): string =>
  new Date(Date.parse(at) + offset * 60_000).toISOString().slice(0, 16).replace('T', ', ')
