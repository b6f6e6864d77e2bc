// Takes back the last pass or fail, for ten seconds.

import type { Run } from '@glowchart/shared/check/run.ts'
import { Sign } from '../ui/signs.tsx'
import { press } from './checking.ts'

export function UndoButton({ run }: { run: Run }) {
  if (!run.undo) return null
  const passed = run.verdicts[run.undo.run.at]?.passed
  return (
    <button type="button" className="btn undo" onClick={() => press({ do: 'undo' })}>
      <Sign name="undo" /> Take back {passed ? 'pass' : 'fail'}
    </button>
  )
}
