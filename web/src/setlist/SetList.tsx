// One set list: its name, whether it is tonight's, its songs and looks, how long it takes, and songs to add.

import { songSeconds } from '@glowchart/shared/set/steps.ts'
import type { Show } from '@glowchart/shared/show/schema.ts'
import { useMemo } from 'react'
import { Reading } from '../advice/Reading.tsx'
import { edit } from '../document/editing.ts'
import { timeName } from '../songs/length.ts'
import { NameField } from '../ui/NameField.tsx'
import { Sign } from '../ui/signs.tsx'
import { Entries } from './Entries.tsx'
import { LookChoice } from './LookChoice.tsx'

export function SetList({ show, id }: { show: Show; id: string }) {
  const list = show.setLists[id]!
  const isTonight = show.tonightList === id
  const total = useMemo(
    () => list.songs.reduce((sum, { song }) => sum + songSeconds(show, song), 0),
    [show, list.songs],
  )
  const songs = `${list.songs.length} ${list.songs.length === 1 ? 'song' : 'songs'}`
  return (
    <section className="set-list" aria-label={list.name}>
      <div className="set-head">
        <NameField
          label="Name of the set list"
          name={list.name}
          onName={name => void edit('renameSetList', { list: id, name })}
        />
        <p className="sum">
          {songs}, {timeName(total)} of music
        </p>
        <button
          type="button"
          className="btn"
          aria-pressed={isTonight}
          onClick={() => void edit('setTonightList', { list: isTonight ? null : id })}
        >
          {isTonight ? 'Tonight' : 'Play it tonight'}
        </button>
        <button type="button" className="btn" onClick={() => void edit('deleteSetList', { list: id })}>
          Delete
        </button>
      </div>
      <LookChoice
        show={show}
        label="Walk-in look"
        value={list.walkIn}
        onChange={walkIn => void edit('setSetLooks', { list: id, walkIn })}
      />
      <Reading />
      <Entries show={show} id={id} list={list} />
      <LookChoice
        show={show}
        label="Look after the last song"
        value={list.end}
        onChange={end => void edit('setSetLooks', { list: id, end })}
      />
      <LookChoice
        show={show}
        label="House look, at any time"
        value={list.house}
        onChange={house => void edit('setSetLooks', { list: id, house })}
      />
      <label className="by-number">
        <input
          type="checkbox"
          checked={list.byNumber ?? false}
          onChange={event => void edit('setSetByNumber', { list: id, on: event.target.checked })}
        />
        <span>
          Songs by number
          <small>Program 1 or song select 1, on any channel, makes the first song ready, and so on.</small>
        </span>
      </label>
      <h2>Add a song</h2>
      <ul className="add">
        {show.songOrder.map(song => (
          <li key={song}>
            <button
              type="button"
              className="btn outline"
              onClick={() => void edit('addSetSong', { list: id, song })}
            >
              <Sign name="plus" /> {show.songs[song]!.title}
              {list.songs.some(entry => entry.song === song) && <small>in it</small>}
            </button>
          </li>
        ))}
      </ul>
    </section>
  )
}
