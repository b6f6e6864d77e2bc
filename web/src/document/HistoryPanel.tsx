// The named history: what was done since the page was opened, newest first; choosing a line goes to that moment.

import { useEffect, useRef } from 'react'
import { goToStep, type LogEntry, lastStep, useHistory } from './editing.ts'

const MOST_SHOWN = 200

export function HistoryPanel({ onClose }: { onClose: () => void }) {
  const log = useHistory(s => s.log)
  const box = useRef<HTMLDivElement>(null)
  useEffect(() => {
    const before = document.activeElement
    box.current?.querySelector<HTMLElement>('[aria-current="true"]')?.focus()
    return () => {
      if (before instanceof HTMLElement) before.focus()
    }
  }, [])
  useEffect(() => {
    const onPointerDown = (event: PointerEvent) => {
      const target = event.target instanceof Element ? event.target : null
      if (!target?.closest('.history')) onClose()
    }
    // Wherever the focus is, and before the place's own keys: on the line check Escape would end the check.
    const onKeyDown = (event: KeyboardEvent) => {
      if (event.key !== 'Escape') return
      event.preventDefault()
      event.stopImmediatePropagation()
      onClose()
    }
    window.addEventListener('pointerdown', onPointerDown)
    window.addEventListener('keydown', onKeyDown, true)
    return () => {
      window.removeEventListener('pointerdown', onPointerDown)
      window.removeEventListener('keydown', onKeyDown, true)
    }
  }, [onClose])
  const here = lastStep()
  const walk = (by: number) => {
    const lines = [...(box.current?.querySelectorAll<HTMLElement>('ol button') ?? [])]
    lines[lines.indexOf(document.activeElement as HTMLElement) + by]?.focus()
  }
  return (
    // biome-ignore lint/a11y/noStaticElementInteractions: it listens for what its buttons let through.
    <div
      ref={box}
      className="past"
      onKeyDown={event => {
        if (event.key === 'ArrowDown') walk(1)
        else if (event.key === 'ArrowUp') walk(-1)
        else return
        event.preventDefault()
      }}
    >
      <ol aria-label="History, newest first">
        {[...log.slice(-MOST_SHOWN)].reverse().map(entry => (
          <li key={entry.key}>
            <button
              type="button"
              className={entry.undone ? 'undone' : ''}
              aria-current={entry.key === here}
              onClick={() => goToStep(entry.key)}
            >
              {entry.says}
              <small>{stateOf(entry, here)}</small>
            </button>
          </li>
        ))}
        <li>
          <button type="button" aria-current={here === 0} onClick={() => goToStep(0)}>
            As this page was opened
            <small>{here === 0 ? 'here' : ''}</small>
          </button>
        </li>
      </ol>
    </div>
  )
}

function stateOf({ key, undone, elsewhere }: LogEntry, here: number): string {
  if (elsewhere) return 'on another page'
  if (undone) return 'taken back'
  return key === here ? 'here' : ''
}
