// A whole number that is typed: it is taken when it is left or Enter is pressed, held to its range.

import { useState } from 'react'

interface Props {
  label: string
  value: number
  min: number
  max: number
  onChange: (value: number) => unknown
}

export function NumberBox({ label, value, min, max, onChange }: Props) {
  const [typed, setTyped] = useState<string | null>(null)
  const take = () => {
    setTyped(null)
    if (typed === null || typed.trim() === '' || !Number.isFinite(Number(typed))) return
    const next = Math.min(max, Math.max(min, Math.round(Number(typed))))
    if (next !== value) onChange(next)
  }
  return (
    <label className="field">
      {label}
      <input
        type="number"
        min={min}
        max={max}
        value={typed ?? value}
        onChange={e => setTyped(e.target.value)}
        onBlur={take}
        // A page that is scrolled must not turn the number that was typed last.
        onWheel={e => e.currentTarget.blur()}
        onKeyDown={e => e.key === 'Enter' && take()}
      />
    </label>
  )
}
