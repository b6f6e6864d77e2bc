// Before the songs are played on another kit: both stages at one moment, what is lost part by part, and the ways out.

import { lossesText, type PartChange, retarget } from '@glowchart/shared/advice/retarget.ts'
import type { Rig } from '@glowchart/shared/rig/schema.ts'
import type { Show } from '@glowchart/shared/show/schema.ts'
import { barStart } from '@glowchart/shared/time/meter.ts'
import { useMemo, useState } from 'react'
import { edit } from '../../document/editing.ts'
import { useViewedSong } from '../../document/viewed.ts'
import { Sign } from '../../ui/signs.tsx'
import { openSide } from '../choice.ts'
import { usePeaks } from '../peaks/peaks.ts'
import { StagePicture } from './StagePicture.tsx'
import { StandInChoice } from './StandInChoice.tsx'

interface Props {
  rig: Rig
  show: Show
  /** The kit that is looked at. */
  to: string
}

const WIDTH = 204

export function RetargetView({ rig, show, to }: Props) {
  const viewed = useViewedSong()
  const peaks = usePeaks(s => (viewed ? s.songs[viewed.id] : undefined))
  const [chosen, setBar] = useState<number | null>(null)
  const changes = useMemo(() => retarget(rig, show, show.tonight, to), [rig, show, to])
  const kit = show.kits[to]!
  const bars = viewed?.timeline.sections.reduce((sum, s) => sum + s.bars, 0) ?? 0
  const brightest = [...(peaks ?? [])].sort((a, b) => b.amps - a.amps)[0]?.bar
  const bar = Math.min(Math.max(0, bars - 1), chosen ?? brightest ?? Math.floor(bars / 2))
  // The middle of the bar: its first beat may be a fade's begin.
  const at = viewed
    ? (barStart(viewed.timeline.meters, bar) + barStart(viewed.timeline.meters, bar + 1)) / 2
    : 0
  return (
    <section className="retarget" aria-label={`Playing on ${kit.name}`}>
      {viewed && bars > 0 && (
        <>
          <div className="pictures">
            {[show.tonight, to].map((id, i) => (
              <figure key={id}>
                <StagePicture {...{ rig, show, kit: id, song: viewed.id, at }} width={WIDTH} />
                <figcaption>
                  {i === 0 ? 'Tonight' : 'Then'}: {show.kits[id]!.name}
                </figcaption>
              </figure>
            ))}
          </div>
          <label className="moment">
            “{viewed.song.title}”, bar {bar + 1}
            <input
              type="range"
              min={1}
              max={bars}
              value={bar + 1}
              onChange={event => setBar(Number(event.target.value) - 1)}
            />
          </label>
        </>
      )}
      <h3>{lossesText(changes)}</h3>
      <ul className="changes">
        {changes.parts.map(change => (
          <Change key={change.part} {...{ show, to, change }} />
        ))}
      </ul>
      {changes.dark.length > 0 && (
        <ul className="dark-cues" aria-label="Cues that would go dark">
          {changes.dark.map(({ says }) => (
            <li key={says}>
              <Sign name="specs" />
              {says}
            </li>
          ))}
        </ul>
      )}
      <button
        type="button"
        className="btn go"
        onClick={() => {
          void edit('chooseKit', { kit: to })
          openSide('kits')
        }}
      >
        Play on {kit.name}
      </button>
      <p className="caution">One step: undo brings {show.kits[show.tonight]!.name} back.</p>
    </section>
  )
}

function Change({ show, to, change }: { show: Show; to: string; change: PartChange }) {
  const { part, becomes, says, proposed } = change
  const set = (other: string | null) => edit('setPartFixtures', { kit: to, part, standIn: other })
  const isOpen = becomes === 'empty' || becomes === 'standIn'
  return (
    <li className={becomes === 'empty' ? 'heed' : ''}>
      <p>
        {becomes === 'empty' && <Sign name="specs" />}
        {says}
      </p>
      {isOpen && (
        <div className="row">
          {proposed !== null && (
            <button type="button" className="btn" onClick={() => set(proposed)}>
              Let {show.parts[proposed]!.name} stand in
            </button>
          )}
          <StandInChoice show={show} kit={to} part={part} onChoose={set} />
        </div>
      )}
    </li>
  )
}
