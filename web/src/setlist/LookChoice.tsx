// The choice of a look that stands at a place of the set.

import type { Show } from '@glowchart/shared/show/schema.ts'

interface Props {
  show: Show
  label: string
  value: string | undefined
  onChange: (look: string | null) => void
}

export function LookChoice({ show, label, value, onChange }: Props) {
  const looks = Object.entries(show.looks).sort(([, a], [, b]) => a.name.localeCompare(b.name))
  return (
    <label className="look-choice">
      <span>{label}</span>
      <select value={value ?? ''} onChange={event => onChange(event.target.value || null)}>
        <option value="">none, the last light stays</option>
        {looks.map(([id, { name }]) => (
          <option key={id} value={id}>
            {name}
          </option>
        ))}
      </select>
    </label>
  )
}
