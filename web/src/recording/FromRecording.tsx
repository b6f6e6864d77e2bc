// Begins a new song from a recording: a song of its name, with the file attached, ready for its beats to be found.

import type { Song } from '@glowchart/shared/show/song.ts'
import { useRef } from 'react'
import { inside, takeSong } from '../intake/take.ts'
import { AUDIO_FILES, attach } from './attach.ts'

/** Sections come once the bars are laid; until then there is room for some minutes. */
const BARS = 64

export function FromRecording({ says, className }: { says: string; className: string }) {
  const input = useRef<HTMLInputElement>(null)
  return (
    <>
      <input
        ref={input}
        type="file"
        accept={AUDIO_FILES}
        aria-label="Recording for a new song"
        hidden
        onChange={event => {
          const file = event.currentTarget.files?.[0]
          event.currentTarget.value = ''
          if (file && takeSong(songOf(file.name), `Add "${titleOf(file.name)}"`) !== null) void attach(file)
        }}
      />
      <button type="button" className={className} onClick={() => input.current?.click()}>
        {says}
      </button>
    </>
  )
}

const titleOf = (file: string): string =>
  file
    .replace(/\.[^.]*$/, '')
    .trim()
    .slice(0, 80) || 'New song'

function songOf(file: string): Song {
  const section = inside()
  return {
    title: titleOf(file),
    bpm: 120,
    meter: { beats: 4, unit: 4 },
    sections: {
      [section]: { name: 'Song', bars: BARS, meters: [], tempo: [], vamp: false, cues: {} },
    },
    sectionOrder: [section],
    tracks: {},
    trackOrder: [],
  }
}
