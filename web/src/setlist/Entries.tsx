// The songs of a set list in order: dragged, or moved with Alt and an arrow; each with its facts, note, look and warnings.

import { songSeconds } from '@glowchart/shared/set/steps.ts'
import type { SetList, Show } from '@glowchart/shared/show/schema.ts'
import { type DragEvent, type KeyboardEvent, useRef, useState } from 'react'
import { edit } from '../document/editing.ts'
import { say } from '../document/session.ts'
import { timeName } from '../songs/length.ts'
import { Sign } from '../ui/signs.tsx'
import { LookChoice } from './LookChoice.tsx'
import { Note } from './Note.tsx'
import { Starts } from './Starts.tsx'
import { Warnings } from './Warnings.tsx'

interface Props {
  show: Show
  id: string
  list: SetList
}

export function Entries({ show, id, list }: Props) {
  const [dragged, setDragged] = useState<number | null>(null)
  const [over, setOver] = useState<number | null>(null)
  const rows = useRef<HTMLOListElement>(null)
  const move = (from: number, to: number) => {
    if (to === from || to < 0 || to >= list.songs.length) return
    void edit('moveSetSong', { list: id, from, to })
    say(`${show.songs[list.songs[from]!.song]!.title} is song ${to + 1} now.`)
  }
  const onDrop = (event: DragEvent) => {
    if (dragged === null) return
    event.preventDefault()
    if (over !== null) move(dragged, over > dragged ? over - 1 : over)
    setDragged(null)
    setOver(null)
  }
  const onKeyDown = (event: KeyboardEvent, at: number) => {
    if (!event.altKey || (event.key !== 'ArrowUp' && event.key !== 'ArrowDown')) return
    event.preventDefault()
    const to = at + (event.key === 'ArrowUp' ? -1 : 1)
    move(at, to)
    rows.current?.querySelectorAll<HTMLElement>('.handle')[to]?.focus()
  }
  return (
    <ol className="entries" aria-label="Songs of the set" ref={rows} onDrop={onDrop}>
      {list.songs.length === 0 && <li className="bare">No song in it yet.</li>}
      {list.songs.map((entry, i) => {
        const song = show.songs[entry.song]!
        return (
          <li
            // biome-ignore lint/suspicious/noArrayIndexKey: a song may come twice in a list.
            key={i}
            className={over === i ? 'before' : over === i + 1 && i === list.songs.length - 1 ? 'after' : ''}
            onDragOver={event => {
              if (dragged === null) return
              event.preventDefault()
              const { top, height } = event.currentTarget.getBoundingClientRect()
              setOver(event.clientY < top + height / 2 ? i : i + 1)
            }}
          >
            <button
              type="button"
              className="handle"
              draggable
              title="Drag, or Alt and an arrow, puts it elsewhere"
              aria-label={`${i + 1}, ${song.title}: move with Alt and an arrow`}
              onDragStart={event => {
                event.dataTransfer.effectAllowed = 'move'
                event.dataTransfer.setData('text/plain', song.title)
                setDragged(i)
              }}
              onDragEnd={() => {
                setDragged(null)
                setOver(null)
              }}
              onKeyDown={event => onKeyDown(event, i)}
            >
              {i + 1}
            </button>
            <div className="what">
              <b>{song.title}</b>
              <small>
                {Math.round(song.bpm)}, {song.meter.beats}/{song.meter.unit},{' '}
                {timeName(songSeconds(show, entry.song))}
                {song.key && `, ${song.key}`}
                {song.sectionOrder.some(section => song.sections[section]!.vamp) && ', has a vamp'}
              </small>
              <Warnings song={entry.song} title={song.title} />
              <Starts list={id} at={i} title={song.title} entry={entry} />
            </div>
            <Note
              label={`Note on ${song.title}`}
              note={entry.note ?? ''}
              onNote={note => void edit('setSetSong', { list: id, at: i, note: note || null })}
            />
            <LookChoice
              show={show}
              label="Look before it"
              value={entry.before}
              onChange={before => void edit('setSetSong', { list: id, at: i, before })}
            />
            <div className="moves">
              <button
                type="button"
                className="btn quiet"
                aria-label={`${song.title} earlier`}
                aria-disabled={i === 0}
                onClick={() => move(i, i - 1)}
              >
                ↑
              </button>
              <button
                type="button"
                className="btn quiet"
                aria-label={`${song.title} later`}
                aria-disabled={i === list.songs.length - 1}
                onClick={() => move(i, i + 1)}
              >
                ↓
              </button>
              <button
                type="button"
                className="btn quiet"
                aria-label={`Take ${song.title} out`}
                onClick={() => void edit('removeSetSong', { list: id, at: i })}
              >
                <Sign name="cross" />
              </button>
            </div>
          </li>
        )
      })}
    </ol>
  )
}
