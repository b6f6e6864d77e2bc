// The references and orders inside a song: sections and their links, tracks, cues and their places.

import { barStart } from '../time/meter.ts'
import { timelineOf } from '../time/timeline.ts'
import type { Show } from './schema.ts'
import type { Cue, Section, Song, TempoMark } from './song.ts'
import {
  checkLight,
  checkOrder,
  checkPart,
  checkSequence,
  checkSwatch,
  has,
  type Refuse,
} from './validate.ts'

/**
 * Refuses the first fault of a song; `path` leads to the song.
 * @param before the song as it was valid, in a show with the same parts, looks and swatches
 */
export function checkSong(show: Show, song: Song, path: string, refuse: Refuse, before?: Song): void {
  checkOrder(song.sectionOrder, song.sections, `${path}.sectionOrder`, 'section', refuse)
  checkOrder(song.trackOrder, song.tracks, `${path}.trackOrder`, 'cue track', refuse)
  for (const [id, track] of Object.entries(song.tracks)) {
    checkPart(show, track.part, `${path}.tracks.${id}.part`, refuse)
  }
  for (const [id, section] of Object.entries(song.sections)) {
    const at = `${path}.sections.${id}`
    checkLink(show, song, id, section, at, refuse)
    checkSequence(
      section.meters.map(m => ({ at: m.bar })),
      `${at}.meters`,
      refuse,
      () => false,
    )
    checkSequence(section.tempo, `${at}.tempo`, refuse, isGlideFromStep)
    const known = song.tracks === before?.tracks && has(before.sections, id) ? before.sections[id] : undefined
    const cues = known?.sameAs === section.sameAs ? known?.cues : undefined
    if (cues === section.cues) continue
    for (const [cueId, cue] of Object.entries(section.cues)) {
      if (cue !== cues?.[cueId]) checkCue(show, song, section, cue, `${at}.cues.${cueId}`, refuse)
    }
  }
  checkPickUps(song, path, refuse)
}

function checkLink(show: Show, song: Song, id: string, section: Section, path: string, refuse: Refuse): void {
  const link = section.sameAs
  if (!link) return
  const at = `${path}.sameAs`
  if (section.score)
    refuse('document.link', `${path}.score`, 'a section that repeats another has no score of its own')
  if (link.section === id) refuse('document.link', `${at}.section`, 'the section repeats itself')
  if (!has(song.sections, link.section)) {
    refuse('document.reference', `${at}.section`, `there is no section "${link.section}" in this song`)
  }
  const next = song.sections[link.section]!.sameAs
  if (next) {
    const says = `the section "${link.section}" is itself a copy, of "${next.section}"`
    refuse('document.link', `${at}.section`, says)
  }
  for (const [from, to] of Object.entries(link.swatches)) {
    checkSwatch(show, from, `${at}.swatches.${from}`, refuse)
    checkSwatch(show, to, `${at}.swatches.${from}`, refuse)
  }
  for (const [i, track] of link.freed.entries()) {
    if (!has(song.tracks, track)) {
      refuse('document.track', `${at}.freed.${i}`, `there is no cue track "${track}" in this song`)
    }
  }
}

function checkCue(show: Show, song: Song, section: Section, cue: Cue, path: string, refuse: Refuse): void {
  const track = song.tracks[cue.track]
  if (!track || !has(song.tracks, cue.track)) {
    return refuse('document.track', `${path}.track`, `there is no cue track "${cue.track}" in this song`)
  }
  if (section.sameAs && !section.sameAs.freed.includes(cue.track)) {
    const says = `the section repeats "${section.sameAs.section}", and the track "${cue.track}" is not freed from it`
    refuse('document.linkedCue', path, says)
  }
  if (!('look' in cue.light)) return checkLight(show, cue.light, `${path}.light`, refuse)
  const { look } = cue.light
  if (!has(show.looks, look)) {
    refuse('document.look', `${path}.light.look`, `there is no look "${look}" in this show`)
  }
  if (!has(show.looks[look]!.parts, track.part)) {
    refuse(
      'document.look',
      `${path}.light.look`,
      `the look "${look}" has nothing for the part "${track.part}"`,
    )
  }
}

/** A section may begin, or go on, with a glide from a tempo of its own. */
const isGlideFromStep = (before: TempoMark, after: TempoMark): boolean =>
  before.glide === undefined && after.glide !== undefined

/** A cue may start up to one bar before its section: the bar that is played before it. */
function checkPickUps(song: Song, path: string, refuse: Refuse): void {
  const early = Object.values(song.sections).some(s => Object.values(s.cues).some(c => c.at < 0))
  if (!early) return
  const timeline = timelineOf(song)
  for (const { id, start, firstBar } of timeline.sections) {
    const bar = start - barStart(timeline.meters, firstBar - 1)
    for (const [cueId, cue] of Object.entries(song.sections[id]!.cues)) {
      if (-cue.at > bar) {
        const says = `the cue starts ${-cue.at} ticks before its section; the bar before has ${bar}`
        refuse('document.pickUp', `${path}.sections.${id}.cues.${cueId}.at`, says)
      }
    }
  }
}
