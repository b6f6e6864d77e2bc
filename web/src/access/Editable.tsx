// Around controls that edit or play: they are off while they would be refused.

import type { ReactNode } from 'react'
import { readOnlyWords, useFollowed } from './read-only.ts'
import './read-only.css'

export function Editable({ children }: { children: ReactNode }) {
  const followed = useFollowed()
  if (followed === null) return children
  const why = readOnlyWords(followed)
  return (
    <fieldset className="held-back" disabled aria-label={why} title={why}>
      {children}
    </fieldset>
  )
}
