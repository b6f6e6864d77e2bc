// Standard MIDI Files for the tests: the worked examples of the standard, real files, and shows to import into.

import { existsSync, readdirSync, readFileSync } from 'node:fs'
import { demoBundle } from '@glowchart/server/demo/demo.ts'
import { parseShow } from '@glowchart/shared/show/document.ts'
import type { Song } from '@glowchart/shared/show/song.ts'

export const hex = (text: string): Uint8Array =>
  Uint8Array.from(text.replaceAll(/\s/g, '').match(/../g)!, byte => Number.parseInt(byte, 16))

/** MMA RP-001, Standard MIDI Files 1.0, pp. 12–14: one short piece, written as format 0 and as format 1. */
export const format0 = hex(`
  4D546864 00000006 0000 0001 0060 4D54726B 0000003B 00FF580404021808 00FF510307A120 00C005 00C12E 00C246
  00923060 003C60 60914340 60904C20 8140823040 003C40 00814340 00804C40 00FF2F00`)
export const format1 = hex(`
  4D546864 00000006 0001 0004 0060 4D54726B 00000014 00FF580404021808 00FF510307A120 8300FF2F00
  4D54726B 00000010 00C005 8140904C20 81404C00 00FF2F00 4D54726B 0000000F 00C12E 60914340 82204300 00FF2F00
  4D54726B 00000015 00C246 00923060 003C60 83003000 003C00 00FF2F00`)

/** Real files, from Debian's openttd-openmsx (GPL-2): [name, path]; empty where the machine lacks them. */
const folder = '/usr/share/games/openttd/baseset/openmsx'
export const realFiles = (existsSync(folder) ? readdirSync(folder) : [])
  .filter(name => name.endsWith('.mid'))
  .map(name => ({ name: name.replace('.mid', ''), bytes: new Uint8Array(readFileSync(`${folder}/${name}`)) }))

/** Ids for an import: n1, n2… */
export function counter(): () => string {
  let n = 0
  return () => `n${++n}`
}

const { show } = demoBundle()
export const demoSongs = Object.values(show.songs)
export const partId = show.partOrder[0]!

/** The song as the demo show holds it once read from its file; throws what validation refuses. */
export function inShow(song: Song): Song {
  const songs = { ...show.songs, imported: song }
  const whole = { ...show, songs, songOrder: [...show.songOrder, 'imported'] }
  return parseShow(JSON.parse(JSON.stringify(whole)), 'test').songs.imported!
}
