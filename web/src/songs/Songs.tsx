// The songs of the show; pressing one puts it on the page and in the engine.

import type { Show } from '@glowchart/shared/show/schema.ts'
import { useMemo } from 'react'
import { useSession } from '../document/session.ts'
import { viewedSong } from '../document/viewed.ts'
import { chooseSong } from '../transport/moves.ts'
import { lengthName } from './length.ts'
import './songs.css'

export function Songs({ show, viewed }: { show: Show; viewed: string | null }) {
  const playing = useSession(s => (s.status?.playing ? s.status.song : null))
  const songs = useMemo(
    () =>
      show.songOrder.flatMap(id => {
        const found = viewedSong(show, id)
        return found?.id === id ? [found] : []
      }),
    [show],
  )
  return (
    <section className="songs" aria-labelledby="songs-title">
      <h2 id="songs-title">{show.name}</h2>
      {songs.length === 0 && <p className="bare">No song in this show yet.</p>}
      <ol aria-label="Songs">
        {songs.map(({ id, song, timeline }, i) => (
          <li key={id}>
            <button
              type="button"
              aria-current={id === viewed}
              onClick={() => id !== viewed && chooseSong(id)}
            >
              <span className="number">{i + 1}</span>
              <span className="name">{song.title}</span>
              <small>
                {Math.round(song.bpm)}, {song.meter.beats}/{song.meter.unit}, {lengthName(timeline)}
                {id === playing && <span className="sounding"> · sounding</span>}
              </small>
            </button>
          </li>
        ))}
      </ol>
    </section>
  )
}
