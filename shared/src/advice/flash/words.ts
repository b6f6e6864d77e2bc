// Advice on flashes: puts the incidents of a song into words, with bars, limits, sources and what to do.

import { bpmAt } from '../../time/tempo.ts'
import { cuePlaces, sectionAt } from '../../time/timeline.ts'
import type { Advice, AdvicePlace } from '../advice.ts'
import { barsOf, barsText, listText } from '../words.ts'
import { type Incident, incidentsOf } from './incidents.ts'
import {
  ADAPTED,
  fastestDivision,
  LONGEST_SECONDS,
  meets,
  provocative,
  screenLimit,
  venueLimit,
} from './limits.ts'
import { framesSpan, type MeasuredSong } from './measured.ts'

/** One piece of advice an incident, in order of time. */
export function flashAdvice(measured: MeasuredSong): Advice[] {
  const { scopes, meter, rate } = measured
  const fast = incidentsOf('fast', scopes, meter, rate)
  const long = incidentsOf('long', scopes, meter, rate, fast)
  return [...fast.map(i => fastAdvice(measured, i)), ...long.map(i => longAdvice(measured, i))]
}

function fastAdvice(measured: MeasuredSong, incident: Incident): Advice {
  const { timeline, show, song } = measured
  const isStage = incident.scopes[0]!.of === 'stage'
  const isOverBoth = !meets(venueLimit, incident.transitions).strict
  const parts = partsBehind(measured, incident)
  const bpm = bpmAt(timeline.tempo, framesSpan(measured, incident).from)
  const names = parts.map(id => show.parts[id]?.name ?? id)
  const by = isStage && names.length > 0 ? `, by ${listText(names)}` : ''
  const flashes = incident.transitions / 2
  const times = `up to ${flashes} flashes a second`
  const isWorst = flashes >= provocative.worstFrom && flashes <= provocative.worstTo
  const worst = isWorst ? ` That is among the rates most likely to provoke a seizure.` : ''
  return {
    kind: 'fastFlashes',
    // The whole stage above both limits; less than that is smaller in the eye, and within the venue's rule of four.
    severity: isStage && isOverBoth ? 'stop' : 'heed',
    place: placeOf(measured, incident, parts),
    flashes,
    brief: `${flashes} flashes/s, limit ${screenLimit.flashes}`,
    says: `“${show.songs[song]!.title}”, ${whereText(measured, incident)}: ${whoText(measured, incident)}, ${times}${colourText(incident)}${by}. Limit ${screenLimit.flashes}${isOverBoth ? `, at most ${venueLimit.flashes}` : ''}.${worst}${unheldText(measured)}`,
    remedy: `${slowerText(bpm)}, or give the motion a high floor so that the change is small${isStage ? ', or spread it so that the lights take turns' : ''}. If it stays, post a notice at the entrance and follow the rules of the venue.`,
    source: sourceText(incident),
  }
}

function longAdvice(measured: MeasuredSong, incident: Incident): Advice {
  const { show, song, rate } = measured
  const seconds = Math.round((incident.to - incident.from) / rate)
  return {
    kind: 'longFlashing',
    severity: 'heed',
    place: placeOf(measured, incident, partsBehind(measured, incident)),
    flashes: incident.transitions / 2,
    brief: `Flashes for ${seconds} s, limit ${LONGEST_SECONDS} s`,
    says: `“${show.songs[song]!.title}”, ${whereText(measured, incident)}: ${whoText(measured, incident)}, flashing for ${seconds} s without a pause${colourText(incident)}. More than ${LONGEST_SECONDS} s is a risk even at a slow rate.`,
    remedy: `Break it off before ${LONGEST_SECONDS} s, or slow it down. If it stays, post a notice at the entrance and follow the rules of the venue.`,
    source: `ITU-R BT.1702-3 (${ADAPTED})`,
  }
}

/** The parts that make the stage flash (those that flash themselves; all parts where none does), or the scope's own. */
function partsBehind({ scopes, meter }: MeasuredSong, incident: Incident): string[] {
  const own = [...new Set(incident.scopes.flatMap(s => s.parts))]
  if (incident.scopes[0]!.of !== 'stage') return own
  const flashing = scopes.filter(
    (scope, signal) =>
      scope.of === 'part' &&
      incident.kinds.some(kind =>
        meter.reading(signal, kind).fast.some(span => span.from <= incident.to && span.to >= incident.from),
      ),
  )
  const behind = flashing.length > 0 ? flashing : scopes.filter(s => s.of === 'part')
  return behind.flatMap(s => s.parts)
}

function placeOf(measured: MeasuredSong, incident: Incident, parts: readonly string[]): AdvicePlace {
  const { show, song, timeline, stage } = measured
  const { from, to } = framesSpan(measured, incident)
  const section = sectionAt(timeline, from)
  const tracks = show.songs[song]!.tracks
  const cues = new Map(
    cuePlaces(show.songs[song]!, timeline)
      .filter(p => p.at < to && p.at + p.length > from && parts.includes(tracks[p.cue.track]!.part))
      .map(p => [`${p.sourceSection} ${p.id}`, { section: p.sourceSection, cue: p.id }]),
  )
  const isSingles = incident.scopes.every(s => s.of === 'fixture')
  return {
    song,
    ...(section && { section: section.id }),
    bars: [barsOf(timeline, from, to)],
    ...(parts.length > 0 && { parts }),
    ...(isSingles && { fixtures: incident.scopes.map(s => stage.fixtures[s.fixtures[0]!]!.id) }),
    cues: [...cues.values()],
  }
}

function whereText(measured: MeasuredSong, incident: Incident): string {
  const { from, to } = framesSpan(measured, incident)
  return barsText([barsOf(measured.timeline, from, to)])
}

function whoText({ show, stage }: MeasuredSong, { scopes }: Incident): string {
  if (scopes[0]!.of === 'stage') return 'the whole stage'
  const names =
    scopes[0]!.of === 'part'
      ? scopes.flatMap(s => s.parts.map(id => show.parts[id]?.name ?? id))
      : scopes.map(s => stage.fixtures[s.fixtures[0]!]!.name)
  return listText(names)
}

function colourText({ kinds }: Incident): string {
  if (kinds.includes('red')) return ' in saturated red'
  return kinds.includes('general') ? '' : ' in one colour'
}

/** Light that flashes faster than tonight's limit on strobes: it is none that the limit holds. */
function unheldText({ show, kit }: MeasuredSong): string {
  const limit = show.kits[kit]?.venue?.strobes
  if (limit === undefined) return ''
  return ` Tonight's limit on strobes (${limit === 'none' ? 'none' : `${limit} a second`}) does not prevent it.`
}

function sourceText({ kinds }: Incident): string {
  const limits = `${screenLimit.flashes} a second: ${screenLimit.source}; ${venueLimit.flashes} a second: ${venueLimit.source}; ${ADAPTED}`
  const isOwn = !kinds.includes('general') && !kinds.includes('red')
  return isOwn ? `${limits}; the rule for a single colour is Glowchart's own` : limits
}

function slowerText(bpm: number): string {
  const division = fastestDivision(bpm)
  const tempo = `At ${Math.round(bpm)} BPM`
  return division === null
    ? `${tempo}, flash less often than every beat`
    : `${tempo}, flash in ${division} notes or slower`
}
