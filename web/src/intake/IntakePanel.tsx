// The frame of a panel at the side: its title, what closes it, and Escape for the same. It takes the focus as it opens.

import { type ReactNode, useEffect, useRef } from 'react'
import { onEscape } from '../ui/escape.ts'
import { Sign } from '../ui/signs.tsx'
import './intake.css'
import { leaveIntake } from './open.ts'

export function IntakePanel({ title, children }: { title: string; children: ReactNode }) {
  const box = useRef<HTMLElement>(null)
  useEffect(() => {
    if (box.current?.contains(document.activeElement)) return
    const first = box.current?.querySelector<HTMLElement>('.btn.go') ?? box.current
    first?.focus()
  }, [])
  return (
    <section ref={box} tabIndex={-1} className="intake" aria-label={title} onKeyDown={onEscape(leaveIntake)}>
      <header>
        <h2>{title}</h2>
        <button type="button" className="btn quiet" aria-label="Back to the songs" onClick={leaveIntake}>
          <Sign name="cross" />
        </button>
      </header>
      {children}
    </section>
  )
}
