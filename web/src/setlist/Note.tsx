// The note on a song of a set list: kept when it is left or Enter is pressed, put back by Escape.

import { useEffect, useState } from 'react'

interface Props {
  label: string
  note: string
  onNote: (note: string) => void
}

export function Note({ label, note, onNote }: Props) {
  const [text, setText] = useState(note)
  useEffect(() => setText(note), [note])
  const keep = () => {
    if (text.trim() !== note) onNote(text.trim())
  }
  return (
    <input
      aria-label={label}
      className="note"
      value={text}
      maxLength={2000}
      placeholder="Note"
      onChange={event => setText(event.target.value)}
      onBlur={keep}
      onKeyDown={event => {
        if (event.key === 'Enter') keep()
        if (event.key === 'Escape') setText(note)
      }}
    />
  )
}
