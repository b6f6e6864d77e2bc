// In the head of every place: calmly, that a show version plays, and how much of the draft is not in it.

import { changeCount } from '@glowchart/shared/version/changes.ts'
import { usePending, useVersion } from './running.ts'
import { pendingWords } from './words.ts'
import './version.css'

export function VersionNote() {
  const number = useVersion(s => s.running?.number)
  return number === undefined ? null : <Note number={number} />
}

function Note({ number }: { number: number }) {
  const count = changeCount(usePending())
  return (
    <a
      className="version-note"
      href="#setlist"
      title="The stage plays the published version; edits wait in the draft"
    >
      <b>Version {number} plays</b>
      <span>{pendingWords(count)}</span>
    </a>
  )
}
