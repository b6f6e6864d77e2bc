// In the head of every place, on a laptop that follows: that nothing can be edited here, and where to take over.

import { readOnlyWords, useFollowed } from './read-only.ts'
import './read-only.css'

export function FollowNote() {
  const followed = useFollowed()
  if (followed === null) return null
  return (
    <a className="version-note follow-note" href="#run" title={readOnlyWords(followed)}>
      <b>Read only</b>
      <span>follows {followed}</span>
    </a>
  )
}
