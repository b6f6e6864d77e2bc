// The cue column: what the chosen cues are, drawn large, and every value that makes them up.

import type { Rig } from '@glowchart/shared/rig/schema.ts'
import type { Show } from '@glowchart/shared/show/schema.ts'
import { barBeatAt, ticksPerBar, ticksPerUnit } from '@glowchart/shared/time/meter.ts'
import { ticks } from '@glowchart/shared/time/units.ts'
import { useEffect, useMemo, useRef, useState } from 'react'
import { joinChosen, splitAtPlayhead } from '../chart/hands.ts'
import { type Rolls, startRolls } from '../chart/roll/rolls.ts'
import { strandsOf } from '../chart/rows.ts'
import { clearChoice } from '../document/choice.ts'
import { edit, type Told } from '../document/editing.ts'
import { newId } from '../document/new-id.ts'
import type { Tonight, ViewedSong } from '../document/viewed.ts'
import { AlsoIn } from '../section/AlsoIn.tsx'
import { ColourGroup } from './ColourGroup.tsx'
import { type ChangeLight, changeLights } from './changing.ts'
import { type Chosen, swatchesIn } from './chosen.ts'
import './cue.css'
import { Hairpins } from './Hairpins.tsx'
import { LookLine } from './LookLine.tsx'
import { MotionGroup } from './MotionGroup.tsx'
import { titled } from './motions.ts'
import { Picture } from './Picture.tsx'
import { picturesOf } from './pictures.ts'
import { SpanGroup } from './SpanGroup.tsx'
import { Title } from './Title.tsx'
import { spanText } from './values.ts'

interface Props {
  rig: Rig
  show: Show
  tonight: Tonight
  viewed: ViewedSong
  chosen: readonly Chosen[]
}

/** What a gesture is changing and has not changed yet. */
interface Draft {
  readonly light?: ChangeLight
  readonly swatch?: { readonly id: string; readonly hex: string }
}

/** Padding of the large picture, both sides, px. */
const WELL = 16

export function CuePanel({ rig, show, tonight, viewed, chosen }: Props) {
  const [rolls, setRolls] = useState<Rolls | null>(null)
  const [version, setVersion] = useState(0)
  const [draft, setDraft] = useState<Draft>({})
  const panel = useRef<HTMLElement>(null)
  const [width, setWidth] = useState(282)
  const { id: song, timeline } = viewed

  useEffect(() => {
    const started = startRolls()
    setRolls(started)
    return () => started.close()
  }, [])
  useEffect(() => {
    if (!panel.current) return
    const watch = new ResizeObserver(([entry]) => entry && setWidth(Math.floor(entry.contentRect.width)))
    watch.observe(panel.current)
    return () => watch.disconnect()
  }, [])
  const lights = useMemo(
    () => chosen.map(({ light }) => (draft.light ? draft.light(light) : light)),
    [chosen, draft],
  )
  const swatches = useMemo(() => {
    const { swatch } = draft
    const old = swatch && show.swatches[swatch.id]
    return old ? { ...show.swatches, [swatch.id]: { ...old, hex: swatch.hex } } : show.swatches
  }, [show, draft])
  const pictures = useMemo(
    () => picturesOf(show, viewed, chosen, lights, swatches),
    [show, viewed, chosen, lights, swatches],
  )
  useEffect(() => {
    rolls?.setSong(rig, pictures.show, pictures.song)
    setVersion(v => v + 1)
  }, [rolls, rig, pictures])
  const strands = useMemo(() => strandsOf(show, tonight.stage), [show, tonight.stage])
  const parts = strands.filter(({ part }) => chosen.some(one => one.track.part === part))
  const rows = useMemo(() => parts.map(part => part.strands), [parts])
  const firstStrands = useMemo(
    () => strands.find(({ part }) => part === chosen[0]!.track.part)?.strands ?? [],
    [strands, chosen],
  )

  // Values that still move belong to the cues they were begun for.
  const of = chosen.map(({ ref }) => ref.cue).join()
  const at = chosen[0]!.place.at
  const meter = timeline.meters.findLast(segment => segment.at <= at)?.meter ?? viewed.song.meter
  const bar = ticksPerBar(meter)
  const name = chosen.length === 1 ? nameOf(show, chosen[0]!) : `${chosen.length} cues`
  const onDraft = (light: ChangeLight) => setDraft({ light })
  const onChange = (what: string, change: ChangeLight) => {
    setDraft({})
    changeLights(`${what} of ${name}`, song, chosen, change)
  }
  const [from, to] = pictures.cue
  const roll = { width: width - WELL, height: 34 }
  return (
    <section ref={panel} className="cue-panel" aria-label={`Cue: ${name}`}>
      <header>
        <Title key={of} song={song} chosen={chosen} name={name} />
        <button type="button" className="btn quiet" onClick={clearChoice}>
          Songs
        </button>
      </header>
      <p className="where">
        <b>{parts.map(part => part.name).join(', ')}</b>, bar {placeName(timeline, from)} to{' '}
        {placeName(timeline, to)}, {spanText(to - from, bar)}
      </p>
      <AlsoIn viewed={viewed} chosen={chosen} />
      <div className="large">
        <Picture rolls={rolls} version={version} span={pictures.cue} rows={rows} turn={0} {...roll} />
        {chosen.length === 1 && <Hairpins cue={chosen[0]!.place.cue} {...roll} />}
      </div>
      <LookLine show={show} song={song} chosen={chosen} />
      <MotionGroup
        {...{ lights, bar, rolls, version, pictures, width, onDraft, onChange }}
        of={of}
        strands={firstStrands}
        hasCells={parts.some(part => part.strands.length > part.staves.length)}
      />
      <ColourGroup
        key={`colour ${of}`}
        {...{ lights, swatches, onDraft, onChange }}
        played={swatchesIn(swatches, viewed, chosen[0]!.place)}
        copy={viewed.song.sections[chosen[0]!.place.section]?.name ?? ''}
        onDraftSwatch={(id, hex) => setDraft({ swatch: { id, hex } })}
        onSwatch={(swatch, hex) => {
          setDraft({})
          void edit('setSwatch', { swatch, hex })
        }}
        onNewSwatch={(title, hex, put) => {
          const swatch = newId('swatch')
          const told: Told[] = [['addSwatch', { swatch, name: title, hex }]]
          changeLights(`Add the swatch ${title}`, song, chosen, put({ swatch }), told)
        }}
      />
      <SpanGroup
        key={`span ${of}`}
        {...{ viewed, chosen, lights, bar, onDraft, onChange }}
        beat={ticksPerUnit(meter)}
      />
      <div className="acts">
        <button
          type="button"
          className="btn"
          title="Split where the playhead is (/)"
          onClick={splitAtPlayhead}
        >
          Split at playhead
        </button>
        <button type="button" className="btn" title="Join cues that touch (J)" onClick={joinChosen}>
          Join
        </button>
        <button
          type="button"
          className="btn quiet"
          onClick={() => edit('deleteCues', { song, cues: chosen.map(one => one.ref) })}
        >
          Delete
        </button>
      </div>
    </section>
  )
}

/** As on the chart: its own name, its look's, or its motion. */
const nameOf = (show: Show, { place, look, light }: Chosen): string =>
  place.cue.name ?? (look === null ? undefined : show.looks[look]?.name) ?? titled(light.motion.kind)

function placeName(timeline: ViewedSong['timeline'], tick: number): string {
  const { bar, beat } = barBeatAt(timeline.meters, ticks(tick))
  return beat === 0 ? `${bar + 1}` : `${bar + 1}.${beat + 1}`
}
