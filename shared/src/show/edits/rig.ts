// Edits of the rig: builds, boxes, fixtures and their open faults. What a show uses is not taken away from it.

import { z } from 'zod'
import { CodedError } from '../../errors.ts'
import { type Rig, rigSchema } from '../../rig/schema.ts'
import { id, name, note } from '../fields.ts'
import type { Kit, Show } from '../schema.ts'
import { found, put, withFields, without } from './change.ts'
import { rigEdit } from './edit.ts'

const { builds, boxes, fixtures } = rigSchema.shape
const faultTime = z.iso.datetime()

const buildOf = (rig: Rig, build: string) => found(rig.builds, build, 'build', rig.name)
const boxOf = (rig: Rig, box: string) => found(rig.boxes, box, 'box', rig.name)
const fixtureOf = (rig: Rig, fixture: string) => found(rig.fixtures, fixture, 'fixture', rig.name)

export const rigEdits = {
  renameRig: rigEdit(
    { name },
    (_args, rig) => `Rename ${rig.name}`,
    (rig, args) => ({ ...rig, name: args.name }),
  ),

  /** Adds a build, or puts it in the place of the one with this id. */
  setBuild: rigEdit(
    { build: id, value: builds.valueType },
    args => `Build ${args.value.name}`,
    (rig, args) => ({ ...rig, builds: put(rig.builds, args.build, args.value) }),
  ),

  deleteBuild: rigEdit(
    { build: id },
    (args, rig) => `Delete the build ${buildOf(rig, args.build).name}`,
    (rig, args, show) => {
      buildOf(rig, args.build)
      return unused(rig, { ...rig, builds: without(rig.builds, args.build) }, show)
    },
  ),

  /** Adds a box, or puts it in the place of the one with this id. */
  setBox: rigEdit(
    { box: id, value: boxes.valueType },
    args => `Box ${args.value.name}`,
    (rig, args) => ({ ...rig, boxes: put(rig.boxes, args.box, args.value) }),
  ),

  deleteBox: rigEdit(
    { box: id },
    (args, rig) => `Delete the box ${boxOf(rig, args.box).name}`,
    (rig, args, show) => {
      boxOf(rig, args.box)
      return unused(rig, { ...rig, boxes: without(rig.boxes, args.box) }, show)
    },
  ),

  /** Adds a fixture, or puts it in the place of the one with this id. */
  setFixture: rigEdit(
    { fixture: id, value: fixtures.valueType },
    args => `Fixture ${args.value.name}`,
    (rig, args) => ({ ...rig, fixtures: put(rig.fixtures, args.fixture, args.value) }),
  ),

  deleteFixture: rigEdit(
    { fixture: id },
    (args, rig) => `Delete the fixture ${fixtureOf(rig, args.fixture).name}`,
    (rig, args, show) => {
      fixtureOf(rig, args.fixture)
      return unused(rig, { ...rig, fixtures: without(rig.fixtures, args.fixture) }, show)
    },
  ),

  /** `at` is when it was found, as an ISO 8601 time in UTC; it names the fault afterwards. */
  openFault: rigEdit(
    { fixture: id, at: faultTime, what: note },
    (args, rig) => `Fault of ${fixtureOf(rig, args.fixture).name}`,
    (rig, args) => {
      const fixture = fixtureOf(rig, args.fixture)
      const faults = [...fixture.faults, { at: args.at, what: args.what }]
      return { ...rig, fixtures: put(rig.fixtures, args.fixture, { ...fixture, faults }) }
    },
  ),

  closeFault: rigEdit(
    { fixture: id, at: faultTime },
    (args, rig) => `Close a fault of ${fixtureOf(rig, args.fixture).name}`,
    (rig, args) => {
      const fixture = fixtureOf(rig, args.fixture)
      const faults = fixture.faults.filter(fault => fault.at !== args.at)
      if (faults.length === fixture.faults.length) {
        throw new CodedError('edit.missing', `no fault of ${args.at} is open`, fixture.name)
      }
      return { ...rig, fixtures: put(rig.fixtures, args.fixture, { ...fixture, faults }) }
    },
  ),

  /** Keeps how the last line check of a fixture went; null: forgets it. */
  setChecked: rigEdit(
    { fixture: id, checked: fixtures.valueType.shape.checked.unwrap().nullable() },
    (args, rig) => `Line check of ${fixtureOf(rig, args.fixture).name}`,
    (rig, args) => {
      const fixture = withFields(fixtureOf(rig, args.fixture), { checked: args.checked })
      return { ...rig, fixtures: put(rig.fixtures, args.fixture, fixture) }
    },
  ),
}

/**
 * The rig without what it had, unless something still asks for that.
 * @throws CodedError `edit.used` naming what uses it
 */
export function unused(rig: Rig, left: Rig, show: Show): Rig {
  const kits = Object.values(show.kits)
  for (const [id, build] of gone(rig.builds, left.builds)) {
    const users = [...Object.values(left.fixtures), ...kits.flatMap(kit => Object.values(kit.guests))]
    refuseUsed(
      `the build ${build.name}`,
      users.filter(user => user.build === id),
      rig,
    )
  }
  for (const [id, box] of gone(rig.boxes, left.boxes)) {
    refuseUsed(
      `the box ${box.name}`,
      kits.filter(kit => Object.hasOwn(kit.boxes, id)),
      rig,
    )
  }
  for (const [id, fixture] of gone(rig.fixtures, left.fixtures)) {
    refuseUsed(
      `the fixture ${fixture.name}`,
      kits.filter(kit => standsIn(kit, id)),
      rig,
    )
  }
  return left
}

const gone = <T>(before: Readonly<Record<string, T>>, after: object): [string, T][] =>
  Object.entries(before).filter(([id]) => !Object.hasOwn(after, id))

const standsIn = (kit: Kit, fixture: string): boolean =>
  Object.values(kit.boxes).some(box => Object.values(box.sockets).some(stand => stand.fixture === fixture)) ||
  Object.values(kit.parts).some(part => part.fixtures.includes(fixture))

function refuseUsed(what: string, users: readonly { name: string }[], rig: Rig): void {
  if (users.length === 0) return
  const names = users.map(user => user.name).join(', ')
  throw new CodedError('edit.used', `${what} is used by: ${names}`, rig.name)
}
