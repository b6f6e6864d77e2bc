// The tempo and the meter that a song begins with, as two fields to type into.

import type { Meter } from '@glowchart/shared/show/song.ts'
import { useEffect, useState } from 'react'

interface Props {
  bpm: number
  meter: Meter
  /** Only with values a song can have. */
  onChange: (change: { bpm?: number; meter?: Meter }) => void
}

export function TempoAndMeter({ bpm, meter, onChange }: Props) {
  return (
    <div className="pair">
      <Typed
        label="Tempo"
        says={String(Number(bpm.toFixed(2)))}
        hint="20 to 400 BPM"
        parse={tempoOf}
        onChange={value => onChange({ bpm: value })}
      />
      <Typed
        label="Meter"
        says={`${meter.beats}/${meter.unit}`}
        hint="such as 4/4, 6/8 or 7/8"
        parse={meterOf}
        onChange={value => onChange({ meter: value })}
      />
    </div>
  )
}

interface TypedProps<T> {
  label: string
  says: string
  hint: string
  parse: (text: string) => T | null
  onChange: (value: T) => void
}

/** A value that is taken when the field is left, or at Enter; what cannot be read stays to be mended. */
function Typed<T>({ label, says, hint, parse, onChange }: TypedProps<T>) {
  const [text, setText] = useState(says)
  useEffect(() => setText(says), [says])
  const value = parse(text)
  const take = () => {
    if (value !== null && text !== says) onChange(value)
  }
  return (
    <label className="field">
      {label}
      <input
        value={text}
        inputMode="decimal"
        spellCheck={false}
        autoComplete="off"
        aria-invalid={value === null}
        title={value === null ? `It reads as ${hint}` : hint}
        onFocus={event => event.currentTarget.select()}
        onChange={event => setText(event.target.value)}
        onBlur={take}
        onKeyDown={event => {
          if (event.key === 'Enter') take()
          if (event.key === 'Escape') setText(says)
        }}
      />
    </label>
  )
}

export function tempoOf(text: string): number | null {
  const bpm = Number(text.trim().replace(',', '.'))
  return text.trim() !== '' && bpm >= 20 && bpm <= 400 ? bpm : null
}

const UNITS = [1, 2, 4, 8, 16, 32] as const

export function meterOf(text: string): Meter | null {
  const read = /^\s*(\d{1,2})\s*\/\s*(\d{1,2})\s*$/.exec(text)
  const beats = Number(read?.[1])
  const unit = UNITS.find(one => one === Number(read?.[2]))
  return read && unit !== undefined && beats >= 1 && beats <= 64 ? { beats, unit } : null
}
