// A name that is typed where it stands: Enter or leaving keeps it, Escape brings the old one back.

import { useEffect, useRef } from 'react'

interface Props {
  label: string
  name: string
  onName: (name: string) => unknown
}

export function NameField({ label, name, onName }: Props) {
  const input = useRef<HTMLInputElement>(null)
  useEffect(() => {
    if (input.current) input.current.value = name
  }, [name])
  return (
    <input
      ref={input}
      className="name-field"
      aria-label={label}
      defaultValue={name}
      maxLength={80}
      spellCheck={false}
      autoComplete="off"
      onKeyDown={event => {
        if (event.key === 'Escape') event.currentTarget.value = name
        else if (event.key !== 'Enter') return
        event.stopPropagation()
        event.currentTarget.blur()
      }}
      onBlur={event => {
        const to = event.target.value.trim()
        if (to === '') event.target.value = name
        else if (to !== name) onName(to)
      }}
    />
  )
}
