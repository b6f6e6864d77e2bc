// `render`: a song's frames to a file, as the packets that would be sent or as levels to read.

import { once } from 'node:events'
import { createWriteStream } from 'node:fs'
import { extname } from 'node:path'
import { songFrameAt } from '@glowchart/shared/clock/transport.ts'
import { CodedError } from '@glowchart/shared/errors.ts'
import { compileSong } from '@glowchart/shared/render/compile.ts'
import type { CompiledSong } from '@glowchart/shared/render/compiled.ts'
import { frameSpan } from '@glowchart/shared/render/frames.ts'
import { type LevelPlan, levelPlan, toLevels } from '@glowchart/shared/render/levels.ts'
import { applyLimits } from '@glowchart/shared/render/limits.ts'
import { freshLive } from '@glowchart/shared/render/live.ts'
import { renderLight } from '@glowchart/shared/render/render.ts'
import { renderScratch } from '@glowchart/shared/render/scratch.ts'
import { barBeatAt, barStart } from '@glowchart/shared/time/meter.ts'
import { ticks } from '@glowchart/shared/time/units.ts'
import { octets } from '../app/installation.ts'
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
  UsageError,
} from './arguments.ts'
import { csvFile, type FrameFile, ndjsonFile, pcapFile, type Write } from './frame-files.ts'

/** The CID in a capture: always the same, so that two captures of one song are equal byte for byte. */
const CAPTURE_CID = octets('6c0b7a52-5f0e-4d2c-9a57-91b4c1d2e3f4')
/** Frames between two looks at the event loop: the file drains, Ctrl-C is heard, progress is shown. */
const BATCH = 200

export async function render(words: string[]): Promise<number> {
  const { file, values } = optionsOf(words, {
    ...routeOptions,
    song: { type: 'string' },
    kit: { type: 'string' },
    from: { type: 'string' },
    bars: { type: 'string' },
    rate: { type: 'string' },
    out: { type: 'string' },
  })
  const { out } = values
  const kind = extname(out ?? '')
  if (out === undefined || !['.pcap', '.csv', '.ndjson'].includes(kind)) {
    throw new UsageError('--out FILE.pcap|.csv|.ndjson says where to write, and what.')
  }
  const bundle = await bundleOf(file!)
  const { rig, show } = bundle
  const kit = kitOf(show, values.kit)
  const compiled = compileSong(rig, show, kit, songOf(show, values.song))
  const plan = levelPlan(rig, show.kits[kit]!)
  const { timeline } = compiled
  const rate = rateOf(show, values.rate)
  const from = barTick(timeline, values.from)
  const bars =
    values.bars === undefined ? Number.POSITIVE_INFINITY : numberOf('bars', values.bars, 1, 100_000)
  const lastBar = barBeatAt(timeline.meters, from).bar + bars
  const to = Number.isFinite(lastBar)
    ? Math.min(timeline.length, barStart(timeline.meters, lastBar))
    : timeline.length

  const asked = routesOf(bundle, kit, values)
  // A capture needs a destination even when none was asked for: the documentation network of RFC 5737 stands for the node.
  const routes = asked.length > 0 ? asked : routesOf(bundle, kit, { artnet: '192.0.2.1', sacn: 'multicast' })
  const target = createWriteStream(out)
  // Whoever waits for the file hears of its fault; between two waits it is only kept.
  target.on('error', () => {})
  const wait = (event: 'open' | 'drain' | 'finish') =>
    once(target, event).catch((error: Error) => {
      throw new CodedError('file.unwritable', `the file cannot be written (${error.message})`, out)
    })
  await wait('open')
  const write: Write = bytes => void target.write(bytes)
  const frames =
    kind === '.pcap'
      ? pcapFile({ ...show.output, rate, routes }, CAPTURE_CID, plan.universes, write)
      : kind === '.csv'
        ? csvFile(timeline, plan.universes, write)
        : ndjsonFile(plan.universes, write)

  const first = songFrameAt(timeline.tempo, from, rate)
  const last = songFrameAt(timeline.tempo, ticks(to), rate)
  for (let n = first; n < last; n += BATCH) {
    renderBatch(compiled, plan, n, Math.min(n + BATCH, last), rate, frames)
    if (target.writableNeedDrain) await wait('drain')
    if (process.stderr.isTTY) process.stderr.write(`\r${Math.round(((n - first) / (last - first)) * 100)} %`)
  }
  frames.end()
  target.end()
  await wait('finish')
  if (process.stderr.isTTY) process.stderr.write('\r')
  process.stdout.write(`${last - first} frames at ${rate} a second written to ${out}\n`)
  return 0
}

function renderBatch(
  song: CompiledSong,
  plan: LevelPlan,
  from: number,
  to: number,
  rate: number,
  file: FrameFile,
): void {
  const live = freshLive()
  const scratch = renderScratch(song)
  const light = new Float32Array(song.stage.cells * 3)
  const levels = new Uint8Array(plan.universes.length * 512)
  for (let n = from; n < to; n++) {
    const span = frameSpan(song, n, rate)
    renderLight(song, span.from, span.to, live, scratch, light)
    applyLimits(song, live, light)
    toLevels(plan, light, levels)
    file.frame(n, span.from, levels)
  }
}
