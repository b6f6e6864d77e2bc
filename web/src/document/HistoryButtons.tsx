// Undo and redo by name, the history behind them, and whether everything is saved.

import { useState } from 'react'
import { readOnlyWords, useFollowed } from '../access/read-only.ts'
import { Sign } from '../ui/signs.tsx'
import { redo, undo, useHistory } from './editing.ts'
import { HistoryPanel } from './HistoryPanel.tsx'
import './history.css'
import { useSession } from './session.ts'

export function HistoryButtons() {
  const { undoSays, redoSays, saved } = useHistory()
  const problem = useSession(s => s.problem)
  const isLost = useSession(s => s.link !== 'open')
  const [isOpen, setOpen] = useState(false)
  return (
    <div className="history">
      <Step name="Undo" says={undoSays} sign="undo" act={undo} />
      <Step name="Redo" says={redoSays} sign="redo" act={redo} />
      <button
        type="button"
        aria-label="History"
        title="What was done, by name"
        aria-expanded={isOpen}
        onClick={() => setOpen(!isOpen)}
      >
        <Sign name="list" />
      </button>
      {isOpen && <HistoryPanel onClose={() => setOpen(false)} />}
      <span className="saved" role="status" aria-label="Saving">
        {saved ? 'Saved' : isLost ? 'Not saved, waiting' : 'Saving'}
      </span>
      {problem && (
        <span className="refusal" title={problem.remedy}>
          {problem.message}
        </span>
      )}
    </div>
  )
}

interface StepProps {
  name: 'Undo' | 'Redo'
  says: string | null
  sign: 'undo' | 'redo'
  act: () => unknown
}

function Step({ name, says, sign, act }: StepProps) {
  const followed = useFollowed()
  const words =
    followed !== null
      ? readOnlyWords(followed)
      : says === null
        ? `Nothing to ${name.toLowerCase()}`
        : `${name}: ${says}`
  return (
    <button
      type="button"
      aria-label={words}
      title={words}
      aria-disabled={says === null || followed !== null}
      onClick={act}
    >
      <Sign name={sign} />
    </button>
  )
}
