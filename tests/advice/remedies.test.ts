// Every remedy that any advice on the faulty sample offers, applied alone: the advice goes or becomes less severe, the
// documents stay valid, and its undo restores every byte.

import type { Advice } from '@glowchart/shared/advice/advice.ts'
import { songAdvice, stageAdvice } from '@glowchart/shared/advice/advise.ts'
import { type Remedy, remediesOf } from '@glowchart/shared/advice/remedy/remedy.ts'
import { canonicalText } from '@glowchart/shared/show/canonical.ts'
import { parseRig, parseShow } from '@glowchart/shared/show/document.ts'
import type { Documents } from '@glowchart/shared/show/edits/edit.ts'
import { type Applied, applyEdit, takeBack } from '@glowchart/shared/show/edits.ts'
import { describe, expect, it } from 'vitest'
import { faultyBundle } from '../support/faulty.ts'

const { rig, show } = faultyBundle()
const documents: Documents = { rig, show }
const kit = show.tonight

/** Reads again only what may have changed. */
function adviseOn({ rig, show }: Documents, song: string | undefined): Advice[] {
  if (song === undefined) return stageAdvice(rig, show, kit)
  const steps = songAdvice(rig, show, kit, song)
  for (let step = steps.next(); ; step = steps.next()) if (step.done) return step.value
}

function applyRemedy({ edits }: Remedy): Applied[] {
  const made: Applied[] = []
  let now = documents
  for (const [name, args] of edits) {
    made.push(applyEdit(now, name, args))
    now = made.at(-1)!.next
  }
  return made
}

const RANK = { note: 0, heed: 1, stop: 2 }

/** How bad it is, as numbers of which the first that differs decides. */
const weight = ({ severity, flashes, amps, place, says }: Advice): number[] => [
  RANK[severity],
  flashes ?? amps ?? 0,
  Number(/(\d+) s without a pause/.exec(says)?.[1] ?? 0),
  place.cues?.length ?? 0,
]

function isLess(a: Advice, b: Advice): boolean {
  const [x, y] = [weight(a), weight(b)]
  const at = x.findIndex((value, i) => Math.abs(value - y[i]!) > 1e-6)
  return at >= 0 && x[at]! < y[at]!
}

const meets = (a: readonly string[] = [], b: readonly string[] = []) =>
  (a.length === 0 && b.length === 0) || a.some(one => b.includes(one))

/** The same trouble: of one kind, in one place. */
const isSame = (a: Advice, b: Advice): boolean => {
  if (a.kind !== b.kind) return false
  const [p, q] = [a.place, b.place]
  if (p.song === undefined) return JSON.stringify(p) === JSON.stringify(q)
  const overlap =
    flashing.includes(a.kind) ||
    (p.bars ?? []).some(x => (q.bars ?? []).some(y => x.from <= y.to && y.from <= x.to))
  return overlap && meets(p.boxes, q.boxes) && meets(p.parts, q.parts)
}

const flashing = ['fastFlashes', 'longFlashing', 'strobeHeld']

/** The song with nothing but the section of the advice: each rests in the dark at its end, and plays alone. */
function around({ rig, show }: Documents, { kind, place }: Advice): Documents {
  const song = show.songs.song!
  if (!flashing.includes(kind) || place.section === undefined) return { rig, show }
  return { rig, show: { ...show, songs: { song: { ...song, sectionOrder: [place.section] } } } }
}

const before = [...adviseOn(documents, undefined), ...adviseOn(documents, 'song')]
const offered = before.map(advice => ({ advice, remedies: remediesOf(documents, kit, advice) }))
const each = offered.flatMap(({ advice, remedies }) =>
  remedies.map(remedy => [`${advice.brief ?? advice.says}: ${remedy.label}`, advice, remedy] as const),
)

describe('each remedy alone', () => {
  it.each(each)('%s', (_, advice, remedy) => {
    const made = applyRemedy(remedy)
    const { next } = made.at(-1)!
    expect(parseRig(JSON.parse(JSON.stringify(next.rig)), 'rig')).toEqual(next.rig)
    expect(parseShow(JSON.parse(JSON.stringify(next.show)), 'show')).toEqual(next.show)
    const isThere = adviseOn(around(next, advice), advice.place.song).filter(other => isSame(other, advice))
    for (const after of isThere) {
      expect(isLess(after, advice), after.says).toBe(true)
    }
    const back = [...made].reverse().reduce((now, one) => takeBack(now, one).next, next)
    expect(canonicalText(back)).toBe(canonicalText(documents))
  })
})

it('leaves a song without fast flashes when the first remedy of each is taken, one after the other', () => {
  let now = documents
  let steps = 0
  for (;;) {
    const [next] = adviseOn(now, 'song').filter(
      ({ kind }) => kind === 'fastFlashes' || kind === 'longFlashing',
    )
    if (!next) break
    for (const [name, args] of remediesOf(now, kit, next)[0]!.edits) now = applyEdit(now, name, args).next
    expect(++steps).toBeLessThan(20)
  }
  expect(steps).toBe(10)
})

it('is offered for everything that an edit can mend, and for nothing that needs hands, tools, or a limit loosened', () => {
  const kinds = (has: boolean) =>
    new Set(offered.filter(({ remedies }) => remedies.length > 0 === has).map(({ advice }) => advice.kind))
  expect([...kinds(true)].sort()).toEqual(
    [
      'darkCues',
      'emptyPart',
      'fastFlashes',
      'longFlashing',
      'memberAbsent',
      'memberTwice',
      'memberUnknown',
      'overlap',
      'past512',
      'placedTwice',
      'standInCircle',
      'strobeHeld',
      'supplyLoad',
      'unknown',
    ].sort(),
  )
  expect([...kinds(false)].sort()).toEqual([
    'cableShort',
    'decoderTooSmall',
    'openFault',
    'powerLimited',
    'socketLoad',
    'socketTooSmall',
  ])
})
