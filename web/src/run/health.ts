// What is told of the machinery: clock, ways out, frames, battery; each a few words and whether they are well.

import type { EngineStatus, FoundNode, OutputStatus } from '@glowchart/shared/messages.ts'
import { eveningOf } from '@glowchart/shared/night/evening.ts'
import type { Rig } from '@glowchart/shared/rig/schema.ts'
import type { Stage } from '@glowchart/shared/rig/stage.ts'
import type { Venue } from '@glowchart/shared/show/venue.ts'
import { clockNames, differs } from '../transport/clock-words.ts'
import { pendingWords } from '../version/words.ts'
import type { Awake } from './awake.ts'
import type { Battery } from './battery.ts'
import { heldCells } from './held.ts'

export interface Cell {
  readonly id: string
  readonly well: 'good' | 'heed' | 'stop'
  readonly says: string
  readonly figure?: string
  /** As it was last heard: nothing is heard now. */
  readonly isOld?: boolean
}

export function healthOf(
  status: EngineStatus,
  nodes: readonly FoundNode[] | null,
  venue: Venue | undefined,
  battery: Battery | null,
  awake: Awake,
  skippedLately: number,
): Cell[] {
  return [
    clockCell(status),
    ...(status.understudy.state === 'follows' ? [] : outputCells(status, nodes)),
    ...understudyCells(status),
    ...heldCells(status, venue),
    ...(skippedLately > 0
      ? [{ id: 'frames', well: 'heed' as const, says: 'Frames skipped', figure: String(skippedLately) }]
      : []),
    ...batteryCells(battery),
    ...awakeCells(awake),
  ]
}

export const NOT_CONNECTED: Cell = { id: 'engine', well: 'stop', says: 'Not connected' }

/**
 * How many of tonight's own lights have passed their line check this evening: a light cannot answer for itself.
 * @param now ms since 1970. @param offset minutes that local time is ahead of UTC
 */
export function lineCheckCell(rig: Rig, stage: Stage, now: number, offset: number): Cell | null {
  const owned = stage.fixtures.flatMap(({ id }) => rig.fixtures[id] ?? [])
  if (owned.length === 0) return null
  const tonight = eveningOf(now, offset)
  const checked = owned.flatMap(({ checked }) =>
    checked && eveningOf(Date.parse(checked.at), offset) === tonight ? [checked] : [],
  )
  const passed = checked.filter(one => one.passed).length
  const failed = checked.length - passed
  return {
    id: 'check',
    well: passed === owned.length ? 'good' : 'heed',
    says: 'Line check',
    figure: `${passed} of ${owned.length}${failed > 0 ? `, ${failed} failed` : ''}`,
  }
}

function awakeCells(awake: Awake): Cell[] {
  if (awake === 'kept' || awake === 'asked') return []
  const figure = awake === 'cannot' ? 'set it to stay on' : 'browser refused'
  return [{ id: 'awake', well: 'heed', says: 'Display may sleep', figure }]
}

/** @param pending changes of the draft that are not in it */
export const versionCell = (number: number, pending: number): Cell => ({
  id: 'version',
  well: 'good',
  says: `Version ${number}`,
  ...(pending > 0 && { figure: pendingWords(pending) }),
})

/** Its figure is the tempo that sounds, and beside it the written one where that is another. */
function clockCell({ clock, bpm, speed }: EngineStatus): Cell {
  const written = differs(bpm, speed) ? `, written ${(bpm / speed).toFixed(0)}` : ''
  const figure = clock.bpm > 0 ? `${clock.bpm.toFixed(1)}${written}` : undefined
  const cell = (well: Cell['well'], says: string): Cell => ({
    id: 'clock',
    well,
    says,
    ...(figure !== undefined && { figure }),
  })
  const name = clockNames[clock.source]
  switch (clock.lock) {
    case 'internal':
      return cell('good', 'Own clock')
    case 'locked':
      return cell(
        clock.estimated ? 'heed' : 'good',
        clock.estimated
          ? `${name}, position estimated`
          : clock.timecode
            ? `${name} ${clock.timecode.label}`
            : name,
      )
    case 'locking':
      return cell('heed', `${name}, catching up`)
    case 'stopped':
      return cell('good', `${name}, stopped`)
    case 'waiting':
      return {
        id: 'clock',
        well: 'heed',
        says: clock.source === 'mtc' ? 'No time code heard yet' : 'No MIDI clock heard yet',
      }
    case 'lost':
      return cell('stop', `${name} lost, own clock`)
  }
}

/** One cell a node (or other address) that is sent to. */
function outputCells({ outputs, frames }: EngineStatus, nodes: readonly FoundNode[] | null): Cell[] {
  if (outputs.length === 0) return [{ id: 'output', well: 'heed', says: 'Output off' }]
  const byHost = new Map<string, OutputStatus[]>()
  for (const one of outputs) {
    const { host } = one.route.to
    byHost.set(host, [...(byHost.get(host) ?? []), one])
  }
  return [...byHost].map(([host, ways]) => {
    const failing = ways.find(way => way.says !== '')
    const errors = ways.reduce((sum, way) => sum + way.errors, 0)
    const name = nodes?.find(node => node.address === host)?.name || host
    return failing
      ? { id: host, well: 'stop', says: `${name}: ${failing.says}`, figure: `${errors} errors` }
      : {
          id: host,
          well: 'good',
          says: name,
          figure: `${frames.rate} frames/s${errors > 0 ? `, ${errors} errors so far` : ''}`,
        }
  })
}

/** Nothing is said where nobody has asked for a second laptop. */
function understudyCells({ understudy }: EngineStatus): Cell[] {
  const { state, well, says } = understudy
  if (state === 'off' || state === 'open' || says === '') return []
  return [{ id: 'understudy', well, says }]
}

const LOW = 0.25

function batteryCells(battery: Battery | null): Cell[] {
  if (!battery) return []
  const figure = `${Math.round(battery.level * 100)} %`
  if (battery.charging) return [{ id: 'battery', well: 'good', says: 'Mains', figure }]
  return [{ id: 'battery', well: battery.level < LOW ? 'stop' : 'heed', says: 'On battery', figure }]
}
