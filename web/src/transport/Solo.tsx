// Says that cue tracks play alone, as the rest is dark; one press lifts it.

import { useDocument } from '../document/document.ts'
import { useSession } from '../document/session.ts'
import type { ViewedSong } from '../document/viewed.ts'
import { setLive } from '../live/desk.ts'
import { Sign } from '../ui/signs.tsx'

export function Solo({ viewed }: { viewed: ViewedSong | null }) {
  const solo = useSession(s => s.status?.live.solo)
  const show = useDocument(s => s.show)
  if (!solo || solo.length === 0) return null
  const names = solo.flatMap(track => {
    const part = viewed?.song.tracks[track]?.part
    return part === undefined ? [] : (show?.parts[part]?.name ?? [])
  })
  return (
    <div className="read solo">
      <span>Solo</span>
      <b>
        <button
          type="button"
          aria-label="Lift the solo"
          title="All other cue tracks are dark; a press lifts it"
          onClick={() => setLive({ solo: [] })}
        >
          {[...new Set(names)].join(', ') || 'in another song'} <Sign name="cross" />
        </button>
      </b>
    </div>
  )
}
