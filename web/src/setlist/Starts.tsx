// Where a song of the set lies when the whole set is on one timeline: a time code label, and a MIDI song position.

import { TIMECODE } from '@glowchart/shared/clock/timecode.ts'
import type { SetList } from '@glowchart/shared/show/schema.ts'
import { useEffect, useState } from 'react'
import { edit } from '../document/editing.ts'
import { say } from '../document/session.ts'

interface Props {
  list: string
  at: number
  title: string
  entry: SetList['songs'][number]
}

export function Starts({ list, at, title, entry }: Props) {
  const isSet = entry.timecode !== undefined || entry.songPosition !== undefined
  return (
    <details className="starts" open={isSet}>
      <summary>Starts by the clock</summary>
      <Start
        label="Time code"
        name={`Time code at the first bar of ${title}`}
        hint="hh:mm:ss:ff"
        value={entry.timecode ?? ''}
        isRight={text => TIMECODE.test(text)}
        wrong="Write it as hours:minutes:seconds:frames, as 01:02:30:00."
        onValue={text => void edit('setSetSong', { list, at, timecode: text || null })}
      />
      <Start
        label="Song position"
        name={`MIDI song position at the first bar of ${title}, in sixteenths`}
        hint="sixteenths"
        value={entry.songPosition === undefined ? '' : String(entry.songPosition)}
        isRight={text => /^\d{1,5}$/.test(text) && Number(text) <= LAST}
        wrong={`Write a whole number of sixteenths, 0 to ${LAST}: 16 a bar of 4/4.`}
        onValue={text =>
          void edit('setSetSong', { list, at, songPosition: text === '' ? null : Number(text) })
        }
      />
    </details>
  )
}

/** 14 bits (MIDI 1.0). */
const LAST = 16_383

interface StartProps {
  label: string
  name: string
  hint: string
  value: string
  isRight: (text: string) => boolean
  wrong: string
  onValue: (text: string) => void
}

/** Kept when it is left or Enter is pressed, put back by Escape; empty takes it out. */
function Start({ label, name, hint, value, isRight, wrong, onValue }: StartProps) {
  const [text, setText] = useState(value)
  useEffect(() => setText(value), [value])
  const trimmed = text.trim()
  const isWrong = trimmed !== '' && !isRight(trimmed)
  const keep = () => {
    if (trimmed === value) return
    if (isWrong) say(wrong)
    else onValue(trimmed)
  }
  return (
    <label>
      <span>{label}</span>
      <input
        aria-label={name}
        aria-invalid={isWrong}
        title={isWrong ? wrong : undefined}
        value={text}
        maxLength={11}
        placeholder={hint}
        onChange={event => setText(event.target.value)}
        onBlur={keep}
        onKeyDown={event => {
          if (event.key === 'Enter') keep()
          if (event.key === 'Escape') setText(value)
        }}
      />
      {isWrong && <small role="status">{wrong}</small>}
    </label>
  )
}
