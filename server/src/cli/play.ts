// `play`: a song to the network with no page, and what was measured on the way.

import { randomUUID } from 'node:crypto'
import { compileSong } from '@glowchart/shared/render/compile.ts'
import { levelPlan } from '@glowchart/shared/render/levels.ts'
import { barBeatAt } from '@glowchart/shared/time/meter.ts'
import { ticks } from '@glowchart/shared/time/units.ts'
import { octets } from '../app/installation.ts'
import type { LoopStatus } from '../engine/loop-messages.ts'
import { startLoop } from '../engine/loop-thread.ts'
import { readTimedBytes } from '../midi/timed-bytes.ts'
import {
  barTick,
  bundleOf,
  kitOf,
  numberOf,
  optionsOf,
  rateOf,
  routeOptions,
  routesOf,
  songOf,
} from './arguments.ts'

export async function play(words: string[]): Promise<number> {
  const { file, values } = optionsOf(words, {
    ...routeOptions,
    song: { type: 'string' },
    kit: { type: 'string' },
    from: { type: 'string' },
    seconds: { type: 'string' },
    rate: { type: 'string' },
    'midi-bytes': { type: 'string' },
    json: { type: 'boolean' },
  })
  const bundle = await bundleOf(file!)
  const { rig, show } = bundle
  const song = songOf(show, values.song)
  const kit = kitOf(show, values.kit)
  const rate = rateOf(show, values.rate)
  const compiled = compileSong(rig, show, kit, song)
  const at = barTick(compiled.timeline, values.from)
  const seconds =
    values.seconds === undefined ? Number.POSITIVE_INFINITY : numberOf('seconds', values.seconds, 0.1, 86_400)
  const midi = values['midi-bytes'] === undefined ? null : await readTimedBytes(values['midi-bytes'])

  const output = { ...show.output, rate, routes: routesOf(bundle, kit, values) }

  let status: LoopStatus | null = null
  let end: () => void = () => {}
  const ended = new Promise<void>(resolve => {
    end = resolve
  })
  const loop = await startLoop(octets(randomUUID()), message => {
    if (message.type === 'status') status = message.status
    else if (message.type === 'ended') end()
  })
  loop.send({
    type: 'piece',
    piece: { song, revision: 0, compiled, plan: levelPlan(rig, show.kits[kit]!) },
    at,
  })
  loop.send({
    type: 'run',
    run: {
      output,
      frames: Math.round(seconds * rate),
      midi: midi?.map(({ ms, bytes }) => ({ ms, bytes })) ?? null,
    },
  })
  const stop = (): void => loop.send({ type: 'end' })
  // However it is ended: a window that is closed must not leave receivers waiting for a stream without its end.
  const signals = ['SIGINT', 'SIGTERM', 'SIGHUP'] as const
  for (const signal of signals) process.once(signal, stop)
  const progress = setInterval(() => {
    if (!values.json && status && process.stderr.isTTY) process.stderr.write(`\r${place(status)}   `)
  }, 250)
  await ended
  clearInterval(progress)
  for (const signal of signals) process.off(signal, stop)
  await loop.close()

  function place(now: LoopStatus): string {
    const { bar, beat } = barBeatAt(compiled.timeline.meters, ticks(now.position))
    return `bar ${bar + 1}.${beat + 1}`
  }
  const report = reportOf(status!, place(status!), show.songs[song]!.title)
  if (process.stderr.isTTY && !values.json) process.stderr.write('\r')
  process.stdout.write(values.json ? `${JSON.stringify(report, null, 2)}\n` : textOf(report))
  return 0
}

type Report = ReturnType<typeof reportOf>

/** Errors in ms; `position` in ticks from the song's start, and as bar.beat. */
function reportOf(status: LoopStatus, place: string, title: string) {
  const { frames, outputs, clock } = status
  const ms = (error: number): number => Math.round(error * 1000) / 1000
  return {
    song: title,
    frames: frames.rendered,
    framesSkipped: frames.skipped,
    rate: frames.rate,
    intervalErrorMs: { p50: ms(frames.errorP50), p99: ms(frames.errorP99), max: ms(frames.errorMax) },
    position: { ticks: Math.round(status.position * 1000) / 1000, place },
    clock: { source: clock.source, lock: clock.lock, bpm: Math.round(clock.bpm * 1000) / 1000 },
    outputs: outputs.map(({ route, packets, errors, says }) => ({
      universe: route.universe,
      protocol: route.to.protocol,
      to: `${route.to.host}:${route.to.port}`,
      packets,
      errors,
      says,
    })),
    sendErrors: outputs.reduce((sum, output) => sum + output.errors, 0),
  }
}

function textOf(report: Report): string {
  const { intervalErrorMs: error } = report
  const lines = [
    `${report.song}: ${report.frames} frames at ${report.rate} a second, ${report.framesSkipped} skipped; stopped at ${report.position.place}`,
    `interval error: p50 ${error.p50} ms, p99 ${error.p99} ms, worst ${error.max} ms`,
    `clock: ${report.clock.source}, ${report.clock.lock}, ${report.clock.bpm} BPM`,
    ...report.outputs.map(
      one =>
        `universe ${one.universe} by ${one.protocol} to ${one.to}: ${one.packets} packets, ${one.errors} errors ${one.says}`,
    ),
  ]
  if (report.outputs.length === 0) lines.push('nothing was sent: give --artnet or --sacn')
  return `${lines.map(line => line.trimEnd()).join('\n')}\n`
}
