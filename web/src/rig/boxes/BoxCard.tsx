// A box in the side: what it listens to, its power tonight in a bar and in words; opened, its sockets and its limit.

import { boxLoad } from '@glowchart/shared/power/box.ts'
import type { Rig } from '@glowchart/shared/rig/schema.ts'
import type { Show } from '@glowchart/shared/show/schema.ts'
import { useViewedSong } from '../../document/viewed.ts'
import { Sign } from '../../ui/signs.tsx'
import { chooseBox, useRigChoice } from '../choice.ts'
import { brightestOf } from '../peaks/brightest.ts'
import { usePeaks } from '../peaks/peaks.ts'
import { ampsText, badgeOf, boxRange, songBar } from '../words.ts'
import { BoxFoot } from './BoxFoot.tsx'
import { PowerBar } from './PowerBar.tsx'
import { Sockets } from './Sockets.tsx'

interface Props {
  rig: Rig
  show: Show
  box: string
  /** Songs that are played tonight. */
  songs: readonly string[]
}

export function BoxCard({ rig, show, box, songs }: Props) {
  const isOpen = useRigChoice(s => s.box === box)
  const { songs: metered, left } = usePeaks()
  const viewed = useViewedSong()
  const kit = show.kits[show.tonight]!
  const owned = rig.boxes[box]!
  const load = boxLoad(rig, kit, box)
  if (!load) return null
  const peak = brightestOf(metered, songs, box)
  const here = viewed ? brightestOf(metered, [viewed.id], box) : null
  const limit = kit.boxes[box]!.powerLimit
  const free = owned.sockets.length - Object.keys(kit.boxes[box]!.sockets).length
  const over = peak && peak.amps > load.continuous + 1e-6 ? peak.amps - load.continuous : 0
  return (
    <section className={`box-card${isOpen ? ' open' : ''}`} aria-labelledby={`box-${box}`}>
      <header>
        <button type="button" aria-expanded={isOpen} onClick={() => chooseBox(isOpen ? null : box)}>
          <span className="badge" aria-hidden="true">
            {badgeOf(owned.name)}
          </span>
          <h2 id={`box-${box}`}>{owned.name}</h2>
          <span className="range">{boxRange(owned)}</span>
          <span className="amps">
            {peak ? peak.amps.toFixed(1) : '…'} <small>of {Number(load.continuous.toFixed(1))} A</small>
          </span>
        </button>
      </header>
      <PowerBar
        name={owned.name}
        peak={peak?.amps ?? null}
        white={load.amps}
        continuous={load.continuous}
        supply={load.supply}
        share={owned.supply.continuousShare}
      />
      {over > 0 && peak ? (
        <p className="hard">
          <Sign name="specs" />
          Over by {ampsText(over)} at {songBar(show, peak.song, peak.bar)}. At{' '}
          {Math.floor((100 * load.continuous) / peak.amps)} % of its light it would fit.
        </p>
      ) : (
        <p>
          {peak ? `Brightest: ${songBar(show, peak.song, peak.bar)}. ` : ''}
          All white: {ampsText(load.amps)}
          {free > 0 && `. ${free === 1 ? 'One socket' : `${free} sockets`} free`}
        </p>
      )}
      {here && peak && here.song !== peak.song && (
        <p>
          This song: {ampsText(here.amps)} at {songBar(show, here.song, here.bar)}
        </p>
      )}
      {limit !== undefined && (
        <p className="armed">Limit armed at {ampsText(limit)}: what is over it is dimmed</p>
      )}
      {!peak && left === 0 && songs.length === 0 && <p>No song to meter yet.</p>}
      {isOpen && (
        <>
          <Sockets rig={rig} show={show} box={box} load={load} />
          <BoxFoot rig={rig} show={show} box={box} load={load} peak={peak?.amps ?? null} />
        </>
      )}
    </section>
  )
}
