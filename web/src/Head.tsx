// The head of every place: the mark of the tool, the ways to the other places, and what can be taken back.

import { FollowNote } from './access/FollowNote.tsx'
import { useDocument } from './document/document.ts'
import { HistoryButtons } from './document/HistoryButtons.tsx'
import { useSession } from './document/session.ts'
import { mayOpen, places, usePlace } from './places.ts'
import { Wordmark } from './ui/signs.tsx'
import { VersionNote } from './version/VersionNote.tsx'

export function Head() {
  const here = usePlace()
  const role = useSession(s => s.role)
  const hasShow = useDocument(s => s.show !== null)
  const open = [{ id: 'chart', name: 'Chart' }, ...places].filter(({ id }) => mayOpen(role, id))
  return (
    <div className="brand">
      <Wordmark />
      <span>Glowchart</span>
      <nav aria-label="Places">
        {open.map(({ id, name }) => (
          <a key={id} href={`#${id}`} aria-current={id === here ? 'page' : undefined}>
            {name}
          </a>
        ))}
      </nav>
      <select
        className="places"
        aria-label="Place"
        value={here}
        onChange={event => {
          location.hash = event.target.value
        }}
      >
        {open.map(({ id, name }) => (
          <option key={id} value={id}>
            {name}
          </option>
        ))}
      </select>
      {hasShow && <HistoryButtons />}
      {here !== 'chart' && <VersionNote />}
      {here !== 'chart' && <FollowNote />}
      <button
        type="button"
        className="btn quiet"
        title="List of keys (?)"
        onClick={() => useSession.setState({ showsKeys: true })}
      >
        Keys
      </button>
    </div>
  )
}
