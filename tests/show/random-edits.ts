// Random arguments for every edit, chosen to be possible (mostly) in the documents at hand.

import type { Documents } from '@glowchart/shared/show/edits/edit.ts'
import { type EditName, edits } from '@glowchart/shared/show/edits.ts'
import { moodNames } from '@glowchart/shared/show/rough-in/moods.ts'
import { Choices, type Random } from './choices.ts'

type Arguments = Record<string, unknown>

/** One of the edits and arguments for it; `serial` makes new ids. */
export function randomEdit(
  documents: Documents,
  random: Random,
  serial: number,
): { name: EditName; args: Arguments } {
  const names = Object.keys(makers) as EditName[]
  const name = names[Math.floor(random() * names.length)]!
  return { name, args: makers[name](new Choices(documents, random, `n${serial}`)) }
}

const stage = { width: 6, depth: 4, height: 3 }
const time = '2031-06-01T20:00:00Z'

/** A maker for every edit: leaving one out does not compile. */
const makers: { [N in EditName]: (c: Choices) => Arguments } = {
  addSection: c => ({
    song: c.song,
    section: c.fresh,
    name: c.name,
    bars: c.int(1, 9),
    before: c.sectionBefore,
  }),
  renameSection: c => ({
    song: c.song,
    section: c.section,
    name: c.name,
    mark: c.of([null, 'Q', undefined]),
  }),
  moveSection: c => ({ song: c.song, section: c.section, before: c.sectionBefore }),
  duplicateSection: c => ({ song: c.song, section: c.section, as: c.fresh, linked: c.chance(0.6) }),
  deleteSection: c => ({ song: c.song, section: c.section }),
  setVamp: c => ({ song: c.song, section: c.section, vamp: c.chance(0.5) }),
  setNote: c => ({
    song: c.song,
    section: c.chance(0.7) ? c.section : undefined,
    note: c.of([null, 'Breathe']),
  }),
  setSectionBars: c => ({ song: c.song, section: c.section, bars: c.int(1, 12) }),
  insertBars: c => ({ song: c.song, section: c.section, bar: c.int(0, 8), count: c.int(1, 3) }),
  removeBars: c => ({ song: c.song, section: c.section, bar: c.int(0, 6), count: c.int(1, 3) }),
  setSectionMeters: c => ({
    song: c.song,
    section: c.section,
    meters: [{ bar: c.int(0, 3), meter: c.meter() }],
  }),
  setTempoMarks: c => ({
    song: c.song,
    section: c.section,
    tempo: [
      { at: c.int(0, 4) * 960, bpm: c.int(60, 200), ...(c.chance(0.5) ? { glide: c.int(1, 9000) } : {}) },
    ],
  }),
  linkSection: c => ({
    song: c.song,
    section: c.section,
    to: c.section,
    swatches: c.swatches(),
    freed: c.chance(0.5) ? [c.track] : [],
  }),
  setLink: c => ({ song: c.song, section: c.copy, swatches: c.swatches(), trim: c.share() }),
  copySection: c => ({
    song: c.song,
    section: c.section,
    onto: c.section,
    how: c.of(['replace', 'over']),
    ...(c.chance(0.4) ? { part: c.key(c.documents.show.parts) } : {}),
  }),
  unlinkSection: c => ({ song: c.song, section: c.copy }),
  freeTrack: c => ({ song: c.song, section: c.copy, track: c.track }),
  relinkTrack: c => ({ song: c.song, section: c.copy, track: c.track }),
  addTrack: c => ({
    song: c.song,
    track: c.fresh,
    part: c.key(c.documents.show.parts),
    merge: c.of(['cover', 'add']),
    before: c.trackBefore,
  }),
  moveTrack: c => ({ song: c.song, track: c.track, before: c.trackBefore }),
  setTrack: c => ({
    song: c.song,
    track: c.track,
    muted: c.chance(0.5),
    merge: c.of(['mask', undefined]),
    part: c.chance(0.3) ? c.key(c.documents.show.parts) : undefined,
  }),
  deleteTrack: c => ({ song: c.song, track: c.track }),
  addCues: c => ({
    song: c.song,
    section: c.section,
    cues: { [`${c.fresh}a`]: c.cue(), [`${c.fresh}b`]: c.cue() },
  }),
  pasteCues: c => ({ song: c.song, section: c.section, at: c.tick(), cues: { [c.fresh]: c.cue() } }),
  moveCues: c => ({ song: c.song, cues: c.refs(), by: c.tick(), track: c.chance(0.3) ? c.track : undefined }),
  resizeCue: c => ({ song: c.song, ...c.ref, at: c.tick(), length: c.int(1, 9000) }),
  stretchCues: c => ({
    song: c.song,
    cues: c.refs(),
    around: c.tick(),
    from: c.int(1, 9000),
    to: c.int(1, 9000),
  }),
  renameCues: c => ({ song: c.song, cues: c.refs(), name: c.of([null, c.name]) }),
  deleteCues: c => ({ song: c.song, cues: c.refs() }),
  splitCue: c => ({ song: c.song, ...c.ref, offset: c.int(1, 4000), right: c.fresh }),
  joinCues: c => touching(c),
  setCueFades: c => ({
    song: c.song,
    cues: c.refs(),
    fadeIn: c.of([null, { length: 480 }, undefined]),
    fadeOut: { length: 960, curve: 'late' },
  }),
  setCueLight: c => ({ song: c.song, cues: c.refs(), light: c.light() }),
  setCueLevel: c => ({ song: c.song, cues: c.refs(), level: c.share() }),
  linkCueToLook: c => ({ song: c.song, cues: c.refs(), look: c.key(c.documents.show.looks) }),
  freeCueFromLook: c => ({ song: c.song, cues: c.refs() }),
  // Seldom: it fills a song, and full songs make long sessions.
  roughIn: c => ({
    song: c.chance(0.2) ? c.song : 'gone',
    moods: { [c.section]: c.of(moodNames), [c.section]: c.of(moodNames) },
    seed: c.int(0, 999),
  }),
  addLook: c => ({ look: c.fresh, name: c.name, parts: { [c.key(c.documents.show.parts)]: c.light() } }),
  renameLook: c => ({ look: c.key(c.documents.show.looks), name: c.name }),
  setLookPart: c => ({
    look: c.key(c.documents.show.looks),
    part: c.key(c.documents.show.parts),
    light: c.chance(0.5) ? null : c.light(),
  }),
  deleteLook: c => ({ look: c.key(c.documents.show.looks) }),
  placeLook: c => ({
    song: c.song,
    section: c.section,
    at: c.int(0, 4) * 960,
    length: 1920,
    look: c.key(c.documents.show.looks),
    as: c.fresh,
  }),
  addSwatch: c => ({ swatch: c.fresh, name: c.name, hex: c.hex }),
  setSwatch: c => ({ swatch: c.key(c.documents.show.swatches), hex: c.hex }),
  deleteSwatch: c => ({
    swatch: c.key(c.documents.show.swatches),
    ...(c.chance(0.5) && { by: c.key(c.documents.show.swatches) }),
  }),
  addSong: c => ({
    song: c.fresh,
    title: c.name,
    bpm: c.int(60, 180),
    meter: c.meter(),
    section: 'a',
    sectionName: 'A',
    bars: 4,
  }),
  takeSong: c => ({
    song: c.fresh,
    value: c.documents.show.songs[c.song] ?? { title: c.name },
    before: c.beforeIn(c.documents.show.songOrder),
  }),
  setAudio: c => ({ song: c.song, audio: c.chance(0.3) ? null : c.audio() }),
  setScore: c => ({
    song: c.song,
    section: c.section,
    score: c.chance(0.3) ? null : [c.phrase(), c.phrase()],
  }),
  renameSong: c => ({ song: c.song, title: c.name }),
  setSong: c => ({ song: c.song, bpm: c.int(60, 180), meter: c.chance(0.3) ? c.meter() : undefined }),
  moveSong: c => ({ song: c.song, before: c.beforeIn(c.documents.show.songOrder) }),
  deleteSong: c => ({ song: c.chance(0.2) ? c.song : 'gone' }),
  duplicateSong: c => ({ song: c.song, as: c.fresh, title: c.name }),
  addPart: c => ({ part: c.fresh, name: c.name, before: c.beforeIn(c.documents.show.partOrder) }),
  renamePart: c => ({ part: c.key(c.documents.show.parts), name: c.name }),
  movePart: c => ({ part: c.key(c.documents.show.parts), before: c.beforeIn(c.documents.show.partOrder) }),
  deletePart: c => ({ part: c.key(c.documents.show.parts) }),
  addKit: c => ({ kit: c.fresh, name: c.name, stage }),
  duplicateKit: c => ({ kit: c.kit, as: c.fresh, name: c.name }),
  renameKit: c => ({ kit: c.kit, name: c.name }),
  deleteKit: c => ({ kit: c.kit }),
  chooseKit: c => ({ kit: c.kit }),
  setStage: c => ({ kit: c.kit, stage: { ...stage, width: c.int(2, 20) } }),
  setPartFixtures: c => ({
    kit: c.kit,
    part: c.key(c.documents.show.parts),
    fixtures: [c.key(c.documents.rig.fixtures)],
    standIn: c.of([null, c.key(c.documents.show.parts)]),
  }),
  placeBox: c => ({ kit: c.kit, box: c.key(c.documents.rig.boxes), place: c.place() }),
  removeBox: c => ({ kit: c.kit, box: c.key(c.documents.rig.boxes) }),
  playWithoutBox: c => ({ kit: c.kit, box: c.key(c.documents.rig.boxes) }),
  playWithBox: c => ({ kit: c.kit, box: c.key(c.documents.rig.boxes) }),
  setPowerLimit: c => ({
    kit: c.kit,
    box: c.key(c.documents.rig.boxes),
    amps: c.chance(0.3) ? null : c.int(1, 20),
  }),
  setStand: c => ({
    kit: c.kit,
    box: c.key(c.documents.rig.boxes),
    socket: `s${c.int(1, 4)}`,
    stand: { fixture: c.key(c.documents.rig.fixtures), place: c.place() },
  }),
  removeStand: c => ({ kit: c.kit, box: c.key(c.documents.rig.boxes), socket: `s${c.int(1, 4)}` }),
  setGuest: c => ({
    kit: c.kit,
    guest: c.fresh,
    value: {
      name: c.name,
      build: c.key(c.documents.rig.builds),
      universe: 2,
      address: c.int(1, 512),
      place: c.place(),
    },
  }),
  removeGuest: c => ({ kit: c.kit, guest: c.key(c.documents.show.kits[c.documents.show.tonight]!.guests) }),
  setSetList: c => ({ list: c.of([c.fresh, 'short']), value: { name: c.name, songs: [{ song: c.song }] } }),
  renameSetList: c => ({ list: c.key(c.documents.show.setLists), name: c.name }),
  setTonightList: c => ({ list: c.of([null, c.key(c.documents.show.setLists)]) }),
  addSetSong: c => ({ list: c.key(c.documents.show.setLists), song: c.song, at: c.int(0, 3) }),
  moveSetSong: c => ({ list: c.key(c.documents.show.setLists), from: c.int(0, 3), to: c.int(0, 3) }),
  removeSetSong: c => ({ list: c.key(c.documents.show.setLists), at: c.int(0, 3) }),
  setSetSong: c => ({
    list: c.key(c.documents.show.setLists),
    at: c.int(0, 3),
    note: c.of([null, c.name]),
    before: c.of([null, c.key(c.documents.show.looks)]),
    timecode: c.of([undefined, null, '01:02:00:12']),
    songPosition: c.of([undefined, null, 64]),
  }),
  setSetByNumber: c => ({ list: c.key(c.documents.show.setLists), on: c.of([true, false]) }),
  setSetLooks: c => ({
    list: c.key(c.documents.show.setLists),
    walkIn: c.key(c.documents.show.looks),
    end: c.of([null, c.key(c.documents.show.looks)]),
  }),
  setStepped: c => ({ song: c.song, stepped: c.of([true, false]) }),
  setKey: c => ({ song: c.song, key: c.of([null, 'A minor', 'B flat']) }),
  setOsc: c => ({ osc: c.of([null, { port: c.int(1024, 5000), address: '127.0.0.1' }]) }),
  setVenue: c => ({
    kit: c.kit,
    trim: c.of([undefined, null, 0.8]),
    highest: c.of([undefined, null, 0.9]),
    strobes: c.of([undefined, null, 'none', 4]),
    lightOffset: c.of([undefined, null, c.int(-200, 200)]),
    house: c.of([
      undefined,
      null,
      { from: { protocol: 'artnet', portAddress: c.int(0, 32767) }, blackout: 1 },
    ]),
  }),
  setTriggers: c => ({
    triggers: c.of([
      null,
      [{ input: { from: 'note', channel: null, note: c.int(0, 127) }, action: { do: 'next' } }],
    ]),
  }),
  deleteSetList: c => ({ list: c.key(c.documents.show.setLists) }),
  renameShow: c => ({ name: c.name }),
  setOutput: c => ({ output: { rate: c.int(1, 44), routes: [] } }),
  renameRig: c => ({ name: c.name }),
  setBuild: c => ({
    build: c.of([c.fresh, 'spare']),
    value: {
      name: c.name,
      shape: 'bulb',
      size: { long: 0.2, across: 0.1 },
      cells: 1,
      channels: [{ does: 'red', cell: 0 }],
    },
  }),
  deleteBuild: c => ({ build: c.key(c.documents.rig.builds) }),
  setBox: c => ({
    box: c.fresh,
    value: {
      name: c.name,
      decoder: { channels: 12 },
      universe: 1,
      address: 25,
      sockets: [{ id: 's1', label: '1' }],
    },
  }),
  deleteBox: c => ({ box: c.key(c.documents.rig.boxes) }),
  setFixture: c => ({
    fixture: c.fresh,
    value: { name: c.name, build: c.key(c.documents.rig.builds), serial: c.fresh },
  }),
  deleteFixture: c => ({ fixture: c.key(c.documents.rig.fixtures) }),
  openFault: c => ({ fixture: c.key(c.documents.rig.fixtures), at: time, what: 'Loose plug' }),
  closeFault: c => ({ fixture: c.key(faulty(c.documents.rig.fixtures)), at: time }),
  setChecked: c => ({
    fixture: c.key(c.documents.rig.fixtures),
    checked: c.chance(0.7) ? { at: time, passed: c.chance(0.5) } : null,
  }),
}

/** Two cues that touch, if there are any. */
function touching(c: Choices): Arguments {
  const song = c.documents.show.songs[c.song]
  for (const [section, { cues }] of Object.entries(song?.sections ?? {})) {
    for (const [left, a] of Object.entries(cues)) {
      const right = Object.keys(cues).find(
        id => cues[id]!.track === a.track && cues[id]!.at === a.at + a.length,
      )
      if (right !== undefined)
        return { song: c.song, left: { section, cue: left }, right: { section, cue: right } }
    }
  }
  return { song: c.song, left: c.ref, right: c.ref }
}

export const editNames = Object.keys(edits) as EditName[]

/** Those with an open fault, if there are any: few have one, and none would be closed by chance. */
function faulty(fixtures: Documents['rig']['fixtures']): Documents['rig']['fixtures'] {
  const open = Object.entries(fixtures).filter(([, { faults }]) => faults.some(({ at }) => at === time))
  return open.length > 0 ? Object.fromEntries(open) : fixtures
}
