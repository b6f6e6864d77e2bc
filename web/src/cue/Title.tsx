// The name of the chosen cues, typed in its place.

import { useEffect, useRef } from 'react'
import { edit } from '../document/editing.ts'
import { type Chosen, shared } from './chosen.ts'

interface Props {
  song: string
  chosen: readonly Chosen[]
  /** What stands there without a name of their own. */
  name: string
}

export function Title({ song, chosen, name }: Props) {
  const input = useRef<HTMLInputElement>(null)
  const own = shared(chosen, one => one.place.cue.name ?? '') ?? ''
  useEffect(() => {
    if (input.current) input.current.value = own
  }, [own])
  return (
    <h2>
      <input
        ref={input}
        aria-label="Name"
        defaultValue={own}
        placeholder={name}
        maxLength={60}
        spellCheck={false}
        autoComplete="off"
        onKeyDown={event => {
          if (event.key === 'Escape') event.currentTarget.value = own
          else if (event.key !== 'Enter') return
          event.stopPropagation()
          event.currentTarget.blur()
        }}
        onBlur={event => {
          const to = event.target.value.trim()
          if (to === own) return
          void edit('renameCues', { song, cues: chosen.map(one => one.ref), name: to || null })
        }}
      />
    </h2>
  )
}
