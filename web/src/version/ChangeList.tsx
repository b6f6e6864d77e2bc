// Changes by song and group, a line each, in words.

import type { VersionChange } from '@glowchart/shared/version/changes.ts'
import type { ReactNode } from 'react'

export function ChangeList({
  changes,
  action,
}: {
  changes: readonly VersionChange[]
  /** What can be done with one of them. */
  action?: (change: VersionChange) => ReactNode
}) {
  return (
    <ul className="version-changes">
      {changes.map(change => (
        <li key={'song' in change.of ? `song ${change.of.song}` : change.of.group}>
          <b>{change.title}</b>
          <ul>
            {change.says.map(says => (
              <li key={says}>{says}</li>
            ))}
          </ul>
          {action?.(change)}
        </li>
      ))}
    </ul>
  )
}
