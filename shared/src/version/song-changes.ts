// What has changed in a song, in words a musician reads: sections, bars, tempo, cues.

import { counted, listText } from '../advice/words.ts'
import { bpmText } from '../paper/words.ts'
import { sameValue } from '../show/diff.ts'
import type { Cue, Section, Song } from '../show/song.ts'
import { rehearsalMarks } from '../time/marks.ts'

/** A line for each thing that differs; none when the songs are equal. */
export function songChanges(before: Song, after: Song): string[] {
  if (before === after) return []
  const says: string[] = []
  if (before.title !== after.title) says.push(`Is called “${after.title}”, was “${before.title}”`)
  if (before.bpm !== after.bpm) says.push(`Tempo ${bpmText(after.bpm)}, was ${bpmText(before.bpm)}`)
  const [was, is] = [before.meter, after.meter]
  if (!sameValue(was, is)) says.push(`Meter ${is.beats}/${is.unit}, was ${was.beats}/${was.unit}`)
  if (before.key !== after.key) says.push(after.key ? `Key ${after.key}` : 'Key removed')
  says.push(...sectionsChanges(before, after), ...trackChanges(before, after))
  const stepped = after.stepped ?? false
  if ((before.stepped ?? false) !== stepped)
    says.push(stepped ? 'Is stepped by pedal' : 'Is no longer stepped by pedal')
  if (!sameValue(before.audio, after.audio)) says.push(`Recording ${verb(before.audio, after.audio)}`)
  if (before.note !== after.note) says.push(`Note ${verb(before.note, after.note)}`)
  if (says.length === 0 && !sameValue(before, after)) says.push('Changed')
  return says
}

const verb = (before: unknown, after: unknown): string =>
  before === undefined ? 'added' : after === undefined ? 'removed' : 'changed'

function sectionsChanges(before: Song, after: Song): string[] {
  const [oldNames, newNames] = [namesOf(before), namesOf(after)]
  const says: string[] = []
  for (const id of after.sectionOrder) {
    const [was, is] = [before.sections[id], after.sections[id]!]
    if (!was) says.push(`${newNames(id)} added, ${counted(is.bars, 'bar')}`)
    else {
      const what = sectionChanges(was, is)
      if (what.length > 0) says.push(`${newNames(id)}: ${what.join(', ')}`)
    }
  }
  for (const id of before.sectionOrder) if (!after.sections[id]) says.push(`${oldNames(id)} removed`)
  const stays = (order: readonly string[], other: Song) => order.filter(id => other.sections[id])
  if (!sameValue(stays(before.sectionOrder, after), stays(after.sectionOrder, before)))
    says.push('Sections in another order')
  return says
}

/** “B Chorus”: with its rehearsal mark, as names come again. */
function namesOf(song: Song): (section: string) => string {
  const marks = rehearsalMarks(song)
  return section => `${marks.get(section)} ${song.sections[section]!.name}`
}

function sectionChanges(was: Section, is: Section): string[] {
  if (was === is) return []
  const says: string[] = []
  if (was.name !== is.name) says.push(`was called ${was.name}`)
  if (was.mark !== is.mark) says.push('another mark')
  if (was.bars !== is.bars) says.push(`${counted(is.bars, 'bar')}, was ${was.bars}`)
  if (!sameValue(was.meters, is.meters)) says.push('meter changed')
  if (!sameValue(was.tempo, is.tempo)) says.push('tempo changed')
  if (was.vamp !== is.vamp) says.push(is.vamp ? 'now a vamp' : 'no longer a vamp')
  if (!sameValue(was.sameAs, is.sameAs)) {
    says.push(
      !is.sameAs
        ? 'no longer repeats another section'
        : was.sameAs?.section === is.sameAs.section
          ? 'repeats with other changes'
          : 'repeats another section',
    )
  }
  says.push(...cueChanges(was.cues, is.cues))
  if (!sameValue(was.score, is.score)) says.push('score to listen to changed')
  if (was.note !== is.note) says.push(`note ${verb(was.note, is.note)}`)
  return says.length === 0 && !sameValue(was, is) ? ['changed'] : says
}

function cueChanges(was: Readonly<Record<string, Cue>>, is: Readonly<Record<string, Cue>>): string[] {
  if (was === is) return []
  const added = Object.keys(is).filter(id => !was[id]).length
  const removed = Object.keys(was).filter(id => !is[id]).length
  const changed = Object.keys(is).filter(id => was[id] && !sameValue(was[id], is[id])).length
  return [
    ...(added > 0 ? [`${counted(added, 'cue')} added`] : []),
    ...(changed > 0 ? [`${counted(changed, 'cue')} changed`] : []),
    ...(removed > 0 ? [`${counted(removed, 'cue')} removed`] : []),
  ]
}

function trackChanges(before: Song, after: Song): string[] {
  const ids = new Set([...before.trackOrder, ...after.trackOrder])
  const touched = [...ids].filter(id => !sameValue(before.tracks[id], after.tracks[id]))
  const verbs = [...new Set(touched.map(id => verb(before.tracks[id], after.tracks[id])))]
  const stays = (order: readonly string[], other: Song) => order.filter(id => other.tracks[id])
  return [
    ...(touched.length > 0 ? [`${counted(touched.length, 'cue track')} ${listText(verbs)}`] : []),
    ...(sameValue(stays(before.trackOrder, after), stays(after.trackOrder, before))
      ? []
      : ['Cue tracks in another order']),
  ]
}
