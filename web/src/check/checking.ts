// The line check on this page: the machine's state, what presses do to it, and what they write into the rig.

import type { FaultNode, Offer, Remedy } from '@glowchart/shared/check/fault-nodes.ts'
import { faultNodeAt } from '@glowchart/shared/check/fault-tree.ts'
import { glowOf, raised, raisesOf } from '@glowchart/shared/check/raise.ts'
import {
  freshRun,
  type Press,
  pressed,
  type Run,
  type Stop,
  type Verdict,
} from '@glowchart/shared/check/run.ts'
import { type Group, groupsOf, type Station } from '@glowchart/shared/check/stations.ts'
import type { Check } from '@glowchart/shared/render/check.ts'
import type { Fixture, Rig } from '@glowchart/shared/rig/schema.ts'
import type { Kit } from '@glowchart/shared/show/schema.ts'
import { create } from 'zustand'
import { followedNow } from '../access/read-only.ts'
import { useDocument } from '../document/document.ts'
import { edit, editTogether, type Told } from '../document/editing.ts'
import { say } from '../document/session.ts'
import { turnBox } from '../run/dead-box.ts'
import { hold } from './wire.ts'

interface Checking {
  readonly run: Run
  /** Answers to the fault tree, from “what did you see?” on. */
  readonly answers: readonly string[]
  /** It passed, and has open faults: the fixture whose faults are asked about. */
  readonly mended: string | null
}

export const useChecking = create<Checking>(() => ({ run: freshRun, answers: [], mended: null }))

/** What the last verdict wrote, to be taken back with it. */
let written: {
  fixture: string
  before: NonNullable<Fixture['checked']> | null
  faultAt: string | null
} | null = null

let laidOut: { rig: Rig; kit: Kit; groups: readonly Group[] } | null = null

/** Tonight's walk; made anew only when the rig or the kit has changed. */
export function groupsNow(rig: Rig, kit: Kit): readonly Group[] {
  if (laidOut?.rig !== rig || laidOut.kit !== kit) laidOut = { rig, kit, groups: groupsOf(rig, kit) }
  return laidOut.groups
}

/** Everything as it stands now; null before the server has answered. */
function hereNow() {
  const { rig, show } = useDocument.getState()
  const kit = show?.kits[show.tonight]
  return rig && show && kit ? { rig, show, kit, groups: groupsNow(rig, kit) } : null
}

export const stationsOf = (groups: readonly Group[]): Station[] => groups.flatMap(({ stations }) => stations)

/** The stations that have something to raise. */
export const stopsOf = (groups: readonly Group[]): Stop[] =>
  stationsOf(groups)
    .filter(({ fixture }) => fixture !== null)
    .map(station => ({ key: station.key, raises: raisesOf(station) }))
    .filter(({ raises }) => raises.length > 0)

/** One press on the line check. */
export function press(what: Press): void {
  const here = hereNow()
  // On a laptop that follows nothing can be checked: the page says so.
  if (!here || followedNow() !== null) return
  const before = useChecking.getState().run
  const run = pressed(before, what, stopsOf(here.groups), performance.now())
  if (run === before) return
  const answers = run.mode === 'asking' && before.mode === 'asking' ? useChecking.getState().answers : []
  useChecking.setState({ run, answers })
  if (what.do === 'pass') keepPass(before.at)
  if (what.do === 'undo') takeBack()
  if (run.at !== before.at || run.mode !== before.mode) announce(run, here.groups)
  holdNow()
}

/** Answers a question of the fault tree; null: goes one question back. */
export function answer(id: string | null): void {
  const { answers, run } = useChecking.getState()
  useChecking.setState({
    answers: id === null ? answers.slice(0, -1) : [...answers, id],
    // The plug has been tried; its own socket is meant again.
    run: { ...run, trying: '' },
  })
  holdNow()
}

/** What the fault tree asks or says now; null while nothing is being looked for. */
export function nodeOf({ run, answers }: Checking): FaultNode | null {
  const here = hereNow()
  const station = here && stationsOf(here.groups).find(({ key }) => key === run.at)
  if (!here || !station || run.mode !== 'asking') return null
  return faultNodeAt(
    { rig: here.rig, kit: here.kit, groups: here.groups, station, raise: run.raise },
    answers,
  )
}

/** Writes the fault down as the tree has found it, or as it was seen; the light goes out. */
export function noteFault(remedy: Remedy | null): void {
  const { run } = useChecking.getState()
  const station = currentStation()
  const reason = remedy?.finds ?? 'Failed, not looked into'
  press({ do: 'note', reason })
  const owned = fixtureOf(station)
  if (!owned || useChecking.getState().run === run) return
  const at = new Date().toISOString()
  const seen = remedy ? remedy.fault : 'Failed the line check, not looked into'
  // What is open already is not opened twice.
  const fault = owned.fixture.faults.some(({ what }) => what === seen) ? null : seen
  written = { fixture: owned.id, before: owned.fixture.checked ?? null, faultAt: fault === null ? null : at }
  const told: Told[] = [['setChecked', { fixture: owned.id, checked: { at, passed: false } }]]
  if (fault !== null) told.push(['openFault', { fixture: owned.id, at, what: fault }])
  void editTogether(`Line check: ${owned.fixture.name} failed`, told)
}

/** Changes tonight's kit as a remedy offers, and raises the light again. */
export function take(offer: Offer): void {
  const here = hereNow()
  const station = currentStation()
  if (!here || !station?.box || !station.socket) return
  const kit = here.show.tonight
  const standAt = ({ box, socket }: Station) => here.kit.boxes[box ?? '']?.sockets[socket ?? '']
  const own = standAt(station)
  if (!own) return
  if (offer.does === 'withoutBox') {
    void turnBox(station.box)
    return press({ do: 'next' })
  }
  if (offer.does === 'swap') {
    const stand = { ...own, swap: offer.order }
    void edit('setStand', { kit, box: station.box, socket: station.socket, stand })
  } else {
    const other = stationsOf(here.groups).find(({ key }) => key === offer.with)
    const its = other && standAt(other)
    if (!other?.box || !other.socket || !its) return
    void editTogether(`${other.name} and ${station.name} change sockets`, [
      ['setStand', { kit, box: station.box, socket: station.socket, stand: its }],
      ['setStand', { kit, box: other.box, socket: other.socket, stand: own }],
    ])
  }
  press({ do: 'again' })
}

/** Closes the open faults of the fixture that has passed, or keeps them. */
export function closeFaults(close: boolean): void {
  const { mended } = useChecking.getState()
  const fixture = mended === null ? undefined : useDocument.getState().rig?.fixtures[mended]
  useChecking.setState({ mended: null })
  if (!close || mended === null || !fixture) return
  const told = fixture.faults.map(({ at }): Told => ['closeFault', { fixture: mended, at }])
  void editTogether(`Faults of ${fixture.name} closed`, told)
}

/** Checks of the rig that are younger than this, ms, are tonight's. */
const TONIGHT = 3 * 3_600_000

/**
 * Takes up tonight's checks from the rig while none is under way, so that a reload or another page goes on where this
 * one was. What this page knows a reason for stays.
 */
export function takeUpEarlier(): void {
  const here = hereNow()
  const { run } = useChecking.getState()
  if (!here || run.mode !== 'ready') return
  const since = Date.now() - TONIGHT
  const verdicts: Record<string, Verdict> = { ...run.verdicts }
  for (const station of stationsOf(here.groups)) {
    const checked = fixtureOf(station)?.fixture.checked
    if (!checked || Date.parse(checked.at) < since) continue
    const { passed } = checked
    if (verdicts[station.key]?.passed === passed) continue
    verdicts[station.key] = { passed, reason: passed ? '' : 'Failed at the last check' }
  }
  useChecking.setState({ run: { ...run, verdicts } })
}

/** Holds on the wire what the state says. */
export function holdNow(): void {
  const here = hereNow()
  const { run } = useChecking.getState()
  if (here) hold(wantedOf(run, here.groups))
}

function wantedOf(run: Run, groups: readonly Group[]): Check | null {
  if (run.mode === 'glow') return glowOf(groups)
  if (run.mode !== 'checking' && run.mode !== 'asking') return null
  const key = run.trying === '' ? run.at : run.trying
  const station = stationsOf(groups).find(other => other.key === key)
  if (!station) return null
  const node = nodeOf(useChecking.getState())
  return raised(station, node?.kind === 'question' && node.raise ? node.raise : run.raise)
}

function keepPass(at: string): void {
  const here = hereNow()
  const owned = fixtureOf(here && stationsOf(here.groups).find(({ key }) => key === at))
  useChecking.setState({ mended: owned && owned.fixture.faults.length > 0 ? owned.id : null })
  written = owned && { fixture: owned.id, before: owned.fixture.checked ?? null, faultAt: null }
  if (!owned) return
  const checked = { at: new Date().toISOString(), passed: true }
  void edit('setChecked', { fixture: owned.id, checked })
}

function takeBack(): void {
  const back = written
  written = null
  useChecking.setState({ mended: null })
  if (!back) return
  const told: Told[] = [['setChecked', { fixture: back.fixture, checked: back.before }]]
  if (back.faultAt !== null) told.push(['closeFault', { fixture: back.fixture, at: back.faultAt }])
  void editTogether('Take back a verdict of the line check', told)
}

const currentStation = (): Station | undefined => {
  const here = hereNow()
  const { run } = useChecking.getState()
  return here ? stationsOf(here.groups).find(({ key }) => key === run.at) : undefined
}

/** The rig's fixture at a station; null for a guest, which belongs to somebody else. */
function fixtureOf(station: Station | null | undefined): { id: string; fixture: Fixture } | null {
  const id = station?.box ? station.fixture : null
  const fixture = id ? useDocument.getState().rig?.fixtures[id] : undefined
  return id && fixture ? { id, fixture } : null
}

function announce(run: Run, groups: readonly Group[]): void {
  const station = stationsOf(groups).find(({ key }) => key === run.at)
  if (run.mode === 'checking' && station) say(`${station.name}, ${station.boxName} ${station.label}`)
  else if (run.mode === 'done') say('Line check done; the lights are dark.')
  else if (run.mode === 'glow') say('All lights glow for plugging up.')
  else if (run.mode === 'halted') say('Written down; the light is dark.')
  else if (run.mode === 'ready') say('Line check ended; the lights are dark.')
}
