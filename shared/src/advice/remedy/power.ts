// Remedies of loaded supplies: the box's power limit armed, or the cues of those bars dimmed.

import { stageOf } from '../../rig/stage.ts'
import type { Documents } from '../../show/edits/edit.ts'
import { lightOf } from '../../show/edits/light.ts'
import { barStart } from '../../time/meter.ts'
import { cuePlaces, timelineOf } from '../../time/timeline.ts'
import type { Advice, CueRef } from '../advice.ts'
import { cuesText, dimmed, relight } from './lights.ts'
import type { Remedy } from './remedy.ts'

/** A limit that holds is never raised by a click: somebody armed it for a reason. */
export function powerRemedies(documents: Documents, kitId: string, advice: Advice): Remedy[] {
  if (advice.kind !== 'supplyLoad') return []
  const box = advice.place.boxes?.[0]
  const supply = box === undefined ? undefined : documents.rig.boxes[box]?.supply
  const out = box === undefined ? undefined : documents.show.kits[kitId]!.boxes[box]
  if (box === undefined || !supply || !out) return []
  const may = Math.floor(supply.amps * supply.continuousShare * 100) / 100
  const { name } = documents.rig.boxes[box]!
  const isHeld = out.powerLimit !== undefined && out.powerLimit <= may
  const arm: Remedy = {
    label: `Arm the power limit of ${name} at ${may} A`,
    says: `Power limit on ${name}`,
    edits: [['setPowerLimit', { kit: kitId, box, amps: may }]],
  }
  return [...(isHeld ? [] : [arm]), ...dim(documents, kitId, box, may, advice)]
}

/** All cues of the bars that ask for too much, on parts with light from this box, at the share that is left. */
function dim(documents: Documents, kitId: string, box: string, may: number, advice: Advice): Remedy[] {
  const { rig, show } = documents
  const { song: id, bars = [] } = advice.place
  if (id === undefined || advice.amps === undefined) return []
  const song = show.songs[id]!
  const timeline = timelineOf(song)
  const kit = show.kits[kitId]!
  const onBox = new Set(Object.values(kit.boxes[box]!.sockets).map(stand => stand.fixture))
  const stage = stageOf(rig, kit)
  const isFed = (part: string) =>
    stage.parts[part]?.fixtures.some(i => onBox.has(stage.fixtures[i]!.id)) ?? false
  const spans = bars.map(({ from, to }) => ({
    from: barStart(timeline.meters, from - 1),
    to: barStart(timeline.meters, to),
  }))
  const refs = new Map<string, CueRef>()
  for (const place of cuePlaces(song, timeline)) {
    const track = song.tracks[place.cue.track]!
    if (track.muted || !isFed(track.part)) continue
    if (!spans.some(({ from, to }) => place.at < to && place.at + place.length > from)) continue
    refs.set(`${place.sourceSection} ${place.id}`, { section: place.sourceSection, cue: place.id })
  }
  // A percent less than allowed: levels are sent in steps.
  const share = Math.floor((may / advice.amps) * 100 - 1) / 100
  if (refs.size === 0 || share <= 0) return []
  const cues = [...refs.values()]
  const { who, freed } = cuesText(show, id, cues)
  const relit = cues.map(ref => {
    const cue = song.sections[ref.section]!.cues[ref.cue]!
    return { ref, light: dimmed(lightOf(show, song.tracks[cue.track]!.part, cue), share) }
  })
  return [
    {
      label: `Dim ${who} to ${Math.round(share * 100)} % of ${cues.length === 1 ? 'its' : 'their'} light, keeping the hue${freed}`,
      says: `Dim ${who} to ${Math.round(share * 100)} %`,
      edits: relight(id, relit),
    },
  ]
}
