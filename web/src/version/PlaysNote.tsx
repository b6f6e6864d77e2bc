// At the chart's foot: that the lights play a published version, where it differs from the song as it is drawn here.

import type { RunningVersion } from '@glowchart/shared/version/request.ts'
import { useEffect, useState } from 'react'
import { useDocument } from '../document/document.ts'
import { useSession } from '../document/session.ts'
import type { ViewedSong } from '../document/viewed.ts'
import { everyTold } from '../live/animation.ts'
import { positionAt } from '../live/playhead.ts'
import { chartPlace, placeWords, playedSong, usePlayedSong } from './on-chart.ts'
import { usePending, useVersion } from './running.ts'

/** Nothing in rehearsal, and nothing where both are the same. */
export function PlaysNote({ viewed }: { viewed: ViewedSong }) {
  const running = useVersion(s => s.running)
  return running && <Note viewed={viewed} running={running} />
}

function Note({ viewed, running }: { viewed: ViewedSong; running: RunningVersion }) {
  const missing = useMissing(viewed)
  const differs = useDifference(viewed, running)
  const version = `version ${running.number}`
  const says =
    missing !== null
      ? `The lights are in ${missing} of ${version}, which the draft has not.`
      : differs !== null && `The lights play ${version}, ${differs}.`
  return says ? <span title={says}>{says}</span> : null
}

/** Where the song is while the chart has no such place. */
function useMissing(viewed: ViewedSong): string | null {
  const [missing, setMissing] = useState<string | null>(null)
  useEffect(
    () =>
      everyTold(now => {
        const played = chartPlace(viewed, now).there ? null : playedSong(viewed)
        setMissing(played && placeWords(played, positionAt(now)))
      }),
    [viewed],
  )
  return missing
}

function useDifference(viewed: ViewedSong, { show }: RunningVersion): string | null {
  const loaded = useSession(s => s.loaded)
  const lacks = useDocument(s => loaded !== null && s.show?.songs[loaded] === undefined)
  const played = usePlayedSong(viewed)
  const pending = usePending()
  if (lacks && show.songs[loaded!])
    return `and in it “${show.songs[loaded!]!.title}”, which the draft has not`
  if (!played) return 'which has not this song'
  const [there, here] = [barsOf(played), barsOf(viewed)]
  if (there !== here)
    return `which has ${there} bars here, the draft ${here}: the playhead goes by their sections`
  if (!areLaidOutAlike(played, viewed)) return 'which has its sections otherwise: the playhead goes by them'
  const isHeard = pending.some(({ of }) =>
    'song' in of ? of.song === viewed.id : of.group === 'looks' || of.group === 'kit',
  )
  return isHeard ? 'without what has changed since: Set list takes it in' : null
}

const barsOf = ({ timeline }: ViewedSong): number => timeline.sections.reduce((sum, s) => sum + s.bars, 0)

const areLaidOutAlike = (a: ViewedSong, b: ViewedSong): boolean =>
  a.timeline.sections.every(({ id, start }, i) => {
    const other = b.timeline.sections[i]
    return other?.id === id && other.start === start
  })
