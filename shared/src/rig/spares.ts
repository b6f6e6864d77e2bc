// What is owned of a build and does not stand in a kit, and what the next one made of it is called.

import type { Kit } from '../show/schema.ts'
import type { Fixture, Rig } from './schema.ts'

/** Ids of the fixtures of a build in the order of their serials: those in a socket of the kit, and those left over. */
export function stockOf(rig: Rig, kit: Kit, build: string): { standing: string[]; spare: string[] } {
  const inSockets = new Set(
    Object.values(kit.boxes).flatMap(box => Object.values(box.sockets).map(stand => stand.fixture)),
  )
  const owned = Object.keys(rig.fixtures)
    .filter(id => rig.fixtures[id]!.build === build)
    .sort((a, b) => compareSerials(rig.fixtures[a]!.serial, rig.fixtures[b]!.serial))
  return {
    standing: owned.filter(id => inSockets.has(id)),
    spare: owned.filter(id => !inSockets.has(id)),
  }
}

/** Numbers in serials count as numbers: T-9 comes before T-10. */
function compareSerials(a: string, b: string): number {
  const [left, right] = [counted(a), counted(b)]
  if (left.words !== right.words) return left.words < right.words ? -1 : 1
  return left.number - right.number
}

/** A text that ends in a number, taken apart; without one it counts as number 0. */
function counted(text: string): { words: string; number: number; digits: number } {
  const [, words = text, digits = ''] = /^(.*?)(\d{1,9})$/.exec(text) ?? []
  return { words, number: Number(digits), digits: digits.length }
}

/** The next fixture of a build: name and serial go on from those it has, or begin at 1 with the build's name. */
export function nextOf(rig: Rig, build: string): Fixture {
  const ofBuild = Object.values(rig.fixtures).filter(f => f.build === build)
  const last = ofBuild.sort((a, b) => compareSerials(a.serial, b.serial)).at(-1)
  const first = (rig.builds[build]?.name ?? build).split(',')[0]!.trim().slice(0, 30)
  const name = counted(last?.name ?? first)
  const begun = `${
    first
      .replace(/[^A-Za-z]/g, '')
      .slice(0, 2)
      .toUpperCase() || 'F'
  }-000`
  const serial = counted(last?.serial ?? begun)
  const taken = new Set(Object.values(rig.fixtures).map(f => f.serial))
  const serialAt = (n: number) => `${serial.words}${String(n).padStart(serial.digits || 3, '0')}`
  let number = serial.number + 1
  while (taken.has(serialAt(number))) number++
  const count = last ? name.number + 1 : 1
  return { name: `${name.words.trimEnd()} ${count}`, build, serial: serialAt(number), faults: [] }
}
