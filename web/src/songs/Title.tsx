// The head of the page: the mark of the tool, where one is, and the song's title, tempo, meter and length.

import type { Show } from '@glowchart/shared/show/schema.ts'
import { HistoryButtons } from '../document/HistoryButtons.tsx'
import type { ViewedSong } from '../document/viewed.ts'
import { Sign, Wordmark } from '../ui/signs.tsx'
import { lengthName } from './length.ts'

export function Title({ show, viewed }: { show: Show | null; viewed: ViewedSong | null }) {
  const bars = viewed?.timeline.sections.reduce((sum, s) => sum + s.bars, 0) ?? 0
  return (
    <div className="title">
      <div className="brand">
        <Wordmark />
        <span>Glowchart</span>
        <nav aria-label="Places">
          <a href="#chart" aria-current="page">
            Chart
          </a>
        </nav>
        {show && <HistoryButtons />}
      </div>
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
        </p>
      )}
    </div>
  )
}
