// The list of sheets by group; arrows go through it, and a group's own entry shows all of it.

import { type KeyboardEvent, useRef } from 'react'
import { type Entry, groupId } from './sheets.ts'

interface Props {
  entries: readonly Entry[]
  shown: string
  onChoose: (id: string) => void
}

export function SheetList({ entries, shown, onChoose }: Props) {
  const list = useRef<HTMLElement>(null)
  const groups = [...new Set(entries.map(entry => entry.group))]
  const step = (event: KeyboardEvent) => {
    const by = event.key === 'ArrowDown' ? 1 : event.key === 'ArrowUp' ? -1 : 0
    if (by === 0) return
    const buttons = [...(list.current?.querySelectorAll('button') ?? [])]
    const next = buttons[buttons.indexOf(document.activeElement as HTMLButtonElement) + by]
    if (!next) return
    event.preventDefault()
    next.focus()
    next.click()
  }
  const entry = (id: string, name: string, label?: string) => (
    <button
      key={id}
      type="button"
      aria-label={label}
      aria-current={id === shown ? 'page' : undefined}
      onClick={() => onChoose(id)}
    >
      {name}
    </button>
  )
  return (
    <nav ref={list} className="sheet-list" aria-label="Sheets" onKeyDown={step}>
      {groups.map(group => {
        const own = entries.filter(one => one.group === group)
        return (
          <section key={group} aria-label={group}>
            <h2>{group}</h2>
            {own.map(({ id, name }) => entry(id, name))}
            {own.length > 1 && entry(groupId(group), `All ${own.length}`, `All ${own.length}: ${group}`)}
          </section>
        )
      })}
    </nav>
  )
}
