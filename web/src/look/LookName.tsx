// A look's name over a line: a press chooses all that makes it up there; F2 or a double click renames it everywhere.

import type { CuePlace } from '@glowchart/shared/time/timeline.ts'
import { useState } from 'react'
import type { LookName as Name } from '../chart/cues.ts'
import { keyOf } from '../chart/grip.ts'
import { choose } from '../document/choice.ts'
import { edit } from '../document/editing.ts'

interface Props {
  look: Name
  places: readonly CuePlace[]
  /** Px from the field's edge. */
  left: number
  /** Px to the next one; null: none follows on the line. */
  room: number | null
}

export function LookName({ look: { tick, name, looks }, places, left, room }: Props) {
  const [typing, setTyping] = useState(false)
  const chooseAll = () => {
    const cues = new Map(
      places
        .filter(({ at, cue }) => at === tick && 'look' in cue.light && looks.includes(cue.light.look))
        .map(place => [keyOf(place), { section: place.sourceSection, cue: place.id }]),
    )
    choose([...cues.values()])
  }
  const only = looks.length === 1 ? looks[0]! : null
  if (typing && only !== null)
    return (
      <input
        // biome-ignore lint/a11y/noAutofocus: renaming was asked for.
        autoFocus
        className="look look-field"
        aria-label="Name of the look"
        style={{ left, width: `${Math.max(8, name.length + 2)}ch` }}
        defaultValue={name}
        maxLength={80}
        onFocus={event => event.target.select()}
        onKeyDown={event => {
          if (event.key === 'Escape') event.currentTarget.value = name
          else if (event.key !== 'Enter') return
          event.stopPropagation()
          event.currentTarget.blur()
        }}
        onBlur={event => {
          const to = event.target.value.trim()
          setTyping(false)
          if (to && to !== name) void edit('renameLook', { look: only, name: to })
        }}
      />
    )
  return (
    <button
      type="button"
      className="look"
      style={{ left, ...(room !== null && { maxWidth: room }) }}
      title={only === null ? 'Choose its cues' : 'Choose its cues; F2 or a double click renames it'}
      onClick={chooseAll}
      onDoubleClick={() => setTyping(only !== null)}
      onKeyDown={event => {
        if (event.key !== 'F2' || only === null) return
        event.preventDefault()
        setTyping(true)
      }}
    >
      {name}
    </button>
  )
}
