// The light of one part of a look, by the same groups as a cue's: level, motion, colours.

import type { Light } from '@glowchart/shared/light/schema.ts'
import type { Rig } from '@glowchart/shared/rig/schema.ts'
import type { Show } from '@glowchart/shared/show/schema.ts'
import { ticksPerBar } from '@glowchart/shared/time/meter.ts'
import { ticks } from '@glowchart/shared/time/units.ts'
import { useEffect, useMemo, useState } from 'react'
import { type Rolls, startRolls } from '../chart/roll/rolls.ts'
import { strandsOf } from '../chart/rows.ts'
import { ColourGroup } from '../cue/ColourGroup.tsx'
import type { ChangeLight } from '../cue/changing.ts'
import type { Chosen } from '../cue/chosen.ts'
import { MotionGroup } from '../cue/MotionGroup.tsx'
import { picturesOf } from '../cue/pictures.ts'
import { shareScale } from '../cue/values.ts'
import { edit, type Told } from '../document/editing.ts'
import { newId } from '../document/new-id.ts'
import type { Tonight, ViewedSong } from '../document/viewed.ts'
import { Figure } from '../ui/Figure.tsx'

interface Props {
  rig: Rig
  show: Show
  tonight: Tonight
  viewed: ViewedSong
  part: string
  light: Light
  onDraft: (light: Light) => void
  /** @param before edits that belong to the same step */
  onLight: (light: Light, before?: readonly Told[]) => void
}

export function PartLight({ rig, show, tonight, viewed, part, light, onDraft, onLight }: Props) {
  const [rolls, setRolls] = useState<Rolls | null>(null)
  const [version, setVersion] = useState(0)
  const [draft, setDraft] = useState<Light | null>(null)
  const shown = draft ?? light
  const lights = useMemo(() => [shown], [shown])
  useEffect(() => {
    const started = startRolls()
    setRolls(started)
    return () => started.close()
  }, [])
  const pictures = useMemo(
    () => picturesOf(show, viewed, [standIn(viewed, part, shown)], [shown], show.swatches),
    [show, viewed, part, shown],
  )
  useEffect(() => {
    rolls?.setSong(rig, pictures.show, pictures.song)
    setVersion(v => v + 1)
  }, [rolls, rig, pictures])
  const row = strandsOf(show, tonight.stage).find(row => row.part === part)
  const draws = (change: ChangeLight) => {
    const next = change(light)
    setDraft(next)
    onDraft(next)
  }
  const changes = (_what: string, change: ChangeLight) => {
    setDraft(null)
    onLight(change(light))
  }
  const level = typeof shown.level === 'number' ? shown.level : Math.max(...shown.level.map(p => p.level))
  return (
    <div className="part-light">
      <Figure
        {...shareScale}
        label="Level"
        value={level}
        onDraft={to => draws(old => ({ ...old, level: to }))}
        onChange={to => changes('Level', old => ({ ...old, level: to }))}
      />
      <MotionGroup
        {...{ lights, rolls, version, pictures }}
        of={part}
        bar={ticksPerBar(viewed.song.meter)}
        strands={row?.strands ?? []}
        hasCells={row !== undefined && row.strands.length > row.staves.length}
        onDraft={draws}
        onChange={changes}
      />
      <ColourGroup
        lights={lights}
        swatches={show.swatches}
        onDraft={draws}
        onChange={changes}
        onDraftSwatch={() => {}}
        onSwatch={(swatch, hex) => edit('setSwatch', { swatch, hex })}
        onNewSwatch={(name, hex, put) => {
          const swatch = newId('swatch')
          setDraft(null)
          onLight(put({ swatch })(light), [['addSwatch', { swatch, name, hex }]])
        }}
      />
    </div>
  )
}

/** The motions' pictures are drawn of a cue: a bar of this light at the song's start. */
function standIn({ song }: ViewedSong, part: string, light: Light): Chosen {
  const section = song.sectionOrder[0] ?? ''
  const track = song.trackOrder.find(id => song.tracks[id]!.part === part) ?? ''
  const cue = { track, at: ticks(0), length: ticksPerBar(song.meter), origin: ticks(0), light }
  const place = { id: 'look', section, sourceSection: section, at: cue.at, length: cue.length, cue }
  return {
    place,
    ref: { section, cue: 'look' },
    track: { part, merge: 'cover', muted: false },
    light,
    look: null,
  }
}
