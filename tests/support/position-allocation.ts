// Run by itself (node --expose-gc): prints the bytes allocated by one reading of a followed position.

import { follow } from '@glowchart/shared/clock/follower.ts'
import { follower } from '@glowchart/shared/clock/follower-state.ts'
import { positionAt, unknownPosition } from '@glowchart/shared/clock/position.ts'
import { tempoMap } from '@glowchart/shared/time/tempo.ts'
import { ticks } from '@glowchart/shared/time/units.ts'

const tempo = tempoMap(120, [{ at: ticks(960), bpm: 150, glide: ticks(9600) }])
const prediction = { tempo, shift: 0 }
let state = follow(follower(ticks(0)), prediction, { type: 'start', at: 1000 })
for (let i = 0; i < 97; i++) state = follow(state, prediction, { type: 'clock', at: 1000 + (i * 2500) / 120 })
const into = unknownPosition()

const TIMES = 200_000
const read = (): void => {
  for (let i = 0; i < TIMES; i++) positionAt(state, prediction, 3000 + (i % 1000) * 0.37, into)
}
read()
read()
globalThis.gc!()
const before = process.memoryUsage().heapUsed
read()
console.log((process.memoryUsage().heapUsed - before) / TIMES)
