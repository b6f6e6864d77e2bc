// The songs of the show: pressing one puts it on the page and in the engine; drag or keys put it elsewhere in the order.

import type { Show } from '@glowchart/shared/show/schema.ts'
import { type DragEvent, type KeyboardEvent, useMemo, useState } from 'react'
import { Editable } from '../access/Editable.tsx'
import { useSession } from '../document/session.ts'
import { type ViewedSong, viewedSong } from '../document/viewed.ts'
import { openIntake } from '../intake/open.ts'
import { FromRecording } from '../recording/FromRecording.tsx'
import { RecordingGroup } from '../recording/RecordingGroup.tsx'
import { chooseSong } from '../transport/moves.ts'
import { lengthName } from './length.ts'
import { moveSongBy, moveSongTo } from './order.ts'
import { SongCard } from './SongCard.tsx'
import './songs.css'

export function Songs({ show, viewed }: { show: Show; viewed: ViewedSong | null }) {
  const playing = useSession(s => (s.status?.playing ? s.status.song : null))
  const [dragged, setDragged] = useState<string | null>(null)
  const [over, setOver] = useState<number | null>(null)
  const songs = useMemo(
    () =>
      show.songOrder.flatMap(id => {
        const found = viewedSong(show, id)
        return found?.id === id ? [found] : []
      }),
    [show],
  )
  const placeOf = (event: DragEvent<HTMLElement>, index: number) => {
    const { top, height } = event.currentTarget.getBoundingClientRect()
    return event.clientY < top + height / 2 ? index : index + 1
  }
  const onDrop = (event: DragEvent<HTMLElement>) => {
    if (dragged === null) return
    event.preventDefault()
    if (over !== null) moveSongTo(show, dragged, over)
    setDragged(null)
    setOver(null)
  }
  const onKeyDown = (event: KeyboardEvent, id: string) => {
    if (!event.altKey || (event.key !== 'ArrowUp' && event.key !== 'ArrowDown')) return
    event.preventDefault()
    moveSongBy(show, id, event.key === 'ArrowUp' ? -1 : 1)
  }
  return (
    <section className="songs" aria-labelledby="songs-title">
      <h2 id="songs-title">{show.name}</h2>
      {songs.length === 0 && <p className="bare">No song in this show yet.</p>}
      <ol aria-label="Songs" onDrop={onDrop} onDragLeave={() => setOver(null)}>
        {songs.map(({ id, song, timeline }, i) => (
          <li
            key={id}
            className={over === i ? 'before' : over === i + 1 && i === songs.length - 1 ? 'after' : ''}
            onDragOver={event => {
              if (dragged === null) return
              event.preventDefault()
              setOver(placeOf(event, i))
            }}
          >
            <button
              type="button"
              className="song"
              // Not its whole entry: in that no text of a field could be chosen with the mouse.
              draggable
              onDragStart={event => {
                event.dataTransfer.effectAllowed = 'move'
                event.dataTransfer.setData('text/plain', song.title)
                setDragged(id)
              }}
              onDragEnd={() => {
                setDragged(null)
                setOver(null)
              }}
              aria-current={id === viewed?.id}
              title="Drag, or Alt and an arrow, puts it elsewhere"
              onClick={() => id !== viewed?.id && chooseSong(id)}
              onKeyDown={event => onKeyDown(event, id)}
            >
              <span className="number">{i + 1}</span>
              <span className="name">{song.title}</span>
              <small>
                {Math.round(song.bpm)}, {song.meter.beats}/{song.meter.unit}, {lengthName(timeline)}
                {id === playing && <span className="sounding"> · sounding</span>}
              </small>
            </button>
            {id === viewed?.id && (
              <Editable>
                <SongCard key={id} show={show} viewed={viewed} />
              </Editable>
            )}
          </li>
        ))}
      </ol>
      <Editable>
        {viewed && <RecordingGroup key={viewed.id} viewed={viewed} />}
        <div className="begin">
          <button type="button" className="btn" data-opens="new" onClick={() => openIntake('new')}>
            New song
          </button>
          <button type="button" className="btn" data-opens="midi" onClick={() => openIntake('midi')}>
            From a MIDI file
          </button>
          <FromRecording className="btn" says="From a recording" />
        </div>
      </Editable>
    </section>
  )
}
