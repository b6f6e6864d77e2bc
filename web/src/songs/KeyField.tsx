// The musical key of a song, typed as the band says it; empty: none is said.

import { useEffect, useState } from 'react'

interface Props {
  /** As it stands, "A minor"; empty: none. */
  music: string
  onKey: (key: string | null) => void
}

export function KeyField({ music, onKey }: Props) {
  const [text, setText] = useState(music)
  useEffect(() => setText(music), [music])
  const keep = () => {
    const typed = text.trim()
    if (typed !== music) onKey(typed === '' ? null : typed)
  }
  return (
    <label className="field">
      Key
      <input
        value={text}
        maxLength={24}
        placeholder="A minor"
        autoComplete="off"
        spellCheck={false}
        onChange={event => setText(event.target.value)}
        onBlur={keep}
        onKeyDown={event => {
          if (event.key === 'Enter') keep()
          if (event.key === 'Escape') setText(music)
        }}
      />
    </label>
  )
}
