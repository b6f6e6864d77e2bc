// What can be done with the song on the page: its title, tempo and meter, a draft of its light, a copy, a file, deleting.

import type { Show } from '@glowchart/shared/show/schema.ts'
import { useEffect, useState } from 'react'
import { edit } from '../document/editing.ts'
import { newId } from '../document/new-id.ts'
import type { ViewedSong } from '../document/viewed.ts'
import { openIntake } from '../intake/open.ts'
import { putOnPage } from '../intake/take.ts'
import { KeyField } from './KeyField.tsx'
import { writeMidiFile } from './midi-file.ts'
import { moveSongBy } from './order.ts'
import { TempoAndMeter } from './TempoAndMeter.tsx'

export function SongCard({ show, viewed }: { show: Show; viewed: ViewedSong }) {
  const { id, song } = viewed
  const [title, setTitle] = useState(song.title)
  useEffect(() => setTitle(song.title), [song.title])
  const rename = () => {
    const typed = title.trim()
    if (typed === '') setTitle(song.title)
    else if (typed !== song.title) void edit('renameSong', { song: id, title: typed })
  }
  const duplicate = () => {
    const as = newId('song')
    putOnPage(as, edit('duplicateSong', { song: id, as, title: copyTitle(song.title) }))
  }
  const place = show.songOrder.indexOf(id)
  return (
    <div className="song-card">
      <label className="field">
        Title
        <input
          value={title}
          maxLength={80}
          onChange={event => setTitle(event.target.value)}
          onBlur={rename}
          onKeyDown={event => {
            if (event.key === 'Enter') rename()
            if (event.key === 'Escape') setTitle(song.title)
          }}
        />
      </label>
      <div className="music">
        <TempoAndMeter
          bpm={song.bpm}
          meter={song.meter}
          onChange={change => void edit('setSong', { song: id, ...change })}
        />
        <KeyField music={song.key ?? ''} onKey={key => void edit('setKey', { song: id, key })} />
      </div>
      <label className="choice">
        <input
          type="checkbox"
          checked={song.stepped ?? false}
          onChange={event => void edit('setStepped', { song: id, stepped: event.target.checked })}
        />
        Stepped by pedal, without a click
      </label>
      <div className="acts">
        <button type="button" className="btn" data-opens="rough" onClick={() => openIntake('rough')}>
          Rough in
        </button>
        <button type="button" className="btn" onClick={() => writeMidiFile(song)}>
          Write MIDI file
        </button>
        <button type="button" className="btn" onClick={duplicate}>
          Duplicate
        </button>
        <button
          type="button"
          className="btn"
          aria-disabled={place === 0}
          onClick={() => moveSongBy(show, id, -1)}
        >
          Earlier
        </button>
        <button
          type="button"
          className="btn"
          aria-disabled={place === show.songOrder.length - 1}
          onClick={() => moveSongBy(show, id, 1)}
        >
          Later
        </button>
        <button type="button" className="btn" onClick={() => void edit('deleteSong', { song: id })}>
          Delete
        </button>
      </div>
    </div>
  )
}

/** "Kettle" gives "Kettle (copy)", held to what a title may have. */
const copyTitle = (title: string): string => `${title.slice(0, 73)} (copy)`
