// A text of a section typed in its place: Enter keeps it, Escape leaves it as it was.

import { type KeyboardEvent, useEffect, useRef } from 'react'

interface Props {
  label: string
  value: string
  placeholder?: string
  className?: string
  /** Characters. */
  most: number
  /** Of several lines; Shift Enter begins one. */
  lines?: boolean
  /** Holds the keyboard as it comes. */
  atOnce?: boolean
  onChange: (value: string) => unknown
  onEnd?: (key: string | null) => void
}

export function Field({ label, value, placeholder, className, most, lines, atOnce, onChange, onEnd }: Props) {
  const box = useRef<HTMLInputElement & HTMLTextAreaElement>(null)
  const ended = useRef<string | null>(null)
  useEffect(() => {
    if (box.current) box.current.value = value
  }, [value])
  useEffect(() => {
    if (!atOnce) return
    box.current?.focus()
    box.current?.select()
  }, [atOnce])
  const onKeyDown = (event: KeyboardEvent<HTMLInputElement | HTMLTextAreaElement>) => {
    if (event.key === 'Escape') event.currentTarget.value = value
    else if (event.key !== 'Enter' || event.shiftKey) return
    // Escape in the column goes on to lead the keyboard back to the chart.
    if (event.key === 'Escape' && !atOnce) return
    event.preventDefault()
    event.stopPropagation()
    ended.current = event.key
    if (atOnce) event.currentTarget.blur()
    else finish(event.currentTarget.value)
  }
  const finish = (text: string) => {
    const to = text.trim()
    if (to !== value) void onChange(to)
    onEnd?.(ended.current)
    ended.current = null
  }
  const shared = {
    ref: box,
    className,
    'aria-label': label,
    defaultValue: value,
    placeholder,
    maxLength: most,
    spellCheck: false,
    autoComplete: 'off',
    onKeyDown,
    onBlur: (event: { target: { value: string } }) => finish(event.target.value),
  }
  return lines ? <textarea rows={2} {...shared} /> : <input {...shared} />
}
