// The checks of what is kept: files that can be read, a disk that can be written, recordings that are there and whole.

import { counted, listText } from '../advice/words.ts'
import type { Show } from '../show/schema.ts'
import type { Facts } from './facts.ts'
import type { Row } from './row.ts'

const GIB = 1024 ** 3
const MIB = 1024 ** 2
/** Below this the disk should be looked at; a night of logs and versions takes far less. Common practice, no source. */
const LITTLE = GIB
/** Below this, edits may soon be refused. */
const TOO_LITTLE = 100 * MIB

const NO_ANSWER = 'The server has not answered yet.'

export function filesRow({ server }: Facts): Row {
  const row = { id: 'files', checked: 'Shows and rigs can be read' } as const
  if (!server) return { ...row, result: 'unknown', says: NO_ANSWER }
  const [first, ...rest] = server.unreadable
  if (first) {
    return {
      ...row,
      result: 'stop',
      says: `${first.where}: ${first.message}.`,
      more: rest.map(({ where, message }) => `${where}: ${message}.`),
      remedy: first.remedy,
      mend: { do: 'go', place: 'chart' },
    }
  }
  const recovered = server.recovered[0]
  if (recovered) {
    return {
      ...row,
      result: 'heed',
      says: `${recovered.where}: ${recovered.message}.`,
      more: server.recovered.slice(1).map(({ where, message }) => `${where}: ${message}.`),
      remedy: recovered.remedy,
      mend: { do: 'go', place: 'chart' },
    }
  }
  return { ...row, result: 'good', says: `${counted(server.read, 'file')} read, none damaged.` }
}

export function diskRow({ server }: Facts): Row {
  const row = { id: 'disk', checked: 'The disk takes what is written' } as const
  if (!server) return { ...row, result: 'unknown', says: NO_ANSWER }
  const { says, free } = server.disk
  if (says !== '') {
    return {
      ...row,
      result: 'stop',
      says: `${server.folder}: a file could not be written and read back: ${says}.`,
      remedy:
        'Make room on the disk, or let this user write to the data folder; until then no edit is kept, and no log.',
    }
  }
  const written = 'A file was written and read back'
  if (free === null) return { ...row, result: 'good', says: `${written}. How much room is left is not told.` }
  const room = free >= GIB ? `${(free / GIB).toFixed(0)} GiB` : `${Math.floor(free / MIB)} MiB`
  if (free >= LITTLE) return { ...row, result: 'good', says: `${written}; ${room} are free.` }
  return {
    ...row,
    result: free < TOO_LITTLE ? 'stop' : 'heed',
    says: `${written}, but only ${room} are free in ${server.folder}.`,
    remedy: 'Make room: with a full disk no edit is kept, though the lights go on.',
  }
}

export function recordingsRow({ show, server, page }: Facts): Row {
  const row = { id: 'recordings', checked: 'Recordings are there and can be played' } as const
  const files = [...filesOf(show)]
  if (files.length === 0) return { ...row, result: 'good', says: 'No song has a recording.' }
  if (!server) return { ...row, result: 'unknown', says: NO_ANSWER }
  const state = new Map(server.recordings.map(one => [one.file, one.state]))
  const faults = files.flatMap(([file, { titles, song }]) => {
    const found = state.get(file)
    const of = `The recording of ${listText(titles)}`
    if (found === 'missing') return [{ song, says: `${of} is not in the data folder.` }]
    if (found === 'damaged') return [{ song, says: `${of} is damaged: its bytes have changed on the disk.` }]
    if (page.decoded[file] === false) return [{ song, says: `${of} cannot be decoded by this browser.` }]
    return []
  })
  const [first, ...rest] = faults
  if (first) {
    return {
      ...row,
      result: 'heed',
      says: first.says,
      more: rest.map(fault => fault.says),
      remedy: 'Attach it again at the song, from where it came from. The lights do not need it.',
      mend: { do: 'go', place: 'chart', song: first.song },
    }
  }
  const whole = files.filter(([file]) => state.get(file) === 'whole').length
  if (whole < files.length) return { ...row, result: 'unknown', says: 'Not all have been looked at yet.' }
  const decoded = files.filter(([file]) => page.decoded[file]).length
  const some = counted(files.length, 'recording')
  if (decoded < files.length) {
    return { ...row, result: 'unknown', says: `${some} whole on the disk; ${decoded} decoded so far.` }
  }
  return { ...row, result: 'good', says: `${some}, whole on the disk and decoded here.` }
}

/** Recordings by file: the titles that name each, and the first song. */
function filesOf({ songs, songOrder }: Show): Map<string, { titles: string[]; song: string }> {
  const files = new Map<string, { titles: string[]; song: string }>()
  for (const song of songOrder) {
    const { audio, title } = songs[song]!
    if (!audio) continue
    const known = files.get(audio.file)
    if (known) known.titles.push(title)
    else files.set(audio.file, { titles: [title], song })
  }
  return files
}
