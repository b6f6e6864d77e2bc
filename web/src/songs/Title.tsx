// Over the chart: the head of the page, and the song's title, tempo, meter and length.

import type { Show } from '@glowchart/shared/show/schema.ts'
import { FollowNote } from '../access/FollowNote.tsx'
import type { ViewedSong } from '../document/viewed.ts'
import { Head } from '../Head.tsx'
import { Sign } from '../ui/signs.tsx'
import { VersionNote } from '../version/VersionNote.tsx'
import { lengthName } from './length.ts'

export function Title({ show, viewed }: { show: Show | null; viewed: ViewedSong | null }) {
  const bars = viewed?.timeline.sections.reduce((sum, s) => sum + s.bars, 0) ?? 0
  return (
    <div className="title">
      <Head />
      <h1>{viewed?.song.title ?? show?.name ?? 'Glowchart'}</h1>
      {viewed && show && (
        <p className="sub">
          <span>
            {show.songOrder.indexOf(viewed.id) + 1} of {show.songOrder.length}
          </span>
          <span className="at">
            <Sign name="note" />{' '}
            <b>= {Number.isInteger(viewed.song.bpm) ? viewed.song.bpm : viewed.song.bpm.toFixed(1)}</b>
          </span>
          <b>
            {viewed.song.meter.beats}/{viewed.song.meter.unit}
          </b>
          <span>
            {bars} bars, {lengthName(viewed.timeline)}
          </span>
          <VersionNote />
          <FollowNote />
        </p>
      )}
    </div>
  )
}
