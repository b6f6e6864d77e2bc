// The files that `render` writes: packets as a capture, or levels as text, a frame a record.

import type { Output } from '@glowchart/shared/show/output.ts'
import { barBeatAt } from '@glowchart/shared/time/meter.ts'
import type { Timeline } from '@glowchart/shared/time/timeline.ts'
import { ticks } from '@glowchart/shared/time/units.ts'
import { captureFrames } from '../output/pcap.ts'

export interface FrameFile {
  /** `number`: frame of the song; `position`: ticks; `levels`: 512 bytes a universe. */
  frame(number: number, position: number, levels: Uint8Array): void
  end(): void
}

export type Write = (bytes: Uint8Array | string) => void

/** Exactly the packets that would be sent, at the times they would be sent: a classic pcap, link type 101. */
export function pcapFile(
  output: Output,
  cid: Uint8Array,
  universes: readonly number[],
  write: Write,
): FrameFile {
  const capture = captureFrames(output, { cid }, write)
  return {
    frame: (number, _position, levels) => capture.frame(universes, levels, (number * 1000) / output.rate),
    end: () => capture.end(),
  }
}

/** frame, position in ticks, bar.beat, universe, then 512 levels: a line a universe. */
export function csvFile(timeline: Timeline, universes: readonly number[], write: Write): FrameFile {
  write(`frame,ticks,place,universe,${Array.from({ length: 512 }, (_, slot) => slot + 1).join(',')}\n`)
  return {
    frame(number, position, levels) {
      const { bar, beat } = barBeatAt(timeline.meters, ticks(position))
      for (const [i, universe] of universes.entries()) {
        write(
          `${number},${position},${bar + 1}.${beat + 1},${universe},${levels.subarray(i * 512, i * 512 + 512).join(',')}\n`,
        )
      }
    },
    end() {},
  }
}

/** One JSON object a frame: {frame, ticks, levels: {universe: [512 levels]}}. */
export function ndjsonFile(universes: readonly number[], write: Write): FrameFile {
  return {
    frame(number, position, levels) {
      const byUniverse = Object.fromEntries(
        universes.map((universe, i) => [universe, [...levels.subarray(i * 512, i * 512 + 512)]]),
      )
      write(`${JSON.stringify({ frame: number, ticks: position, levels: byUniverse })}\n`)
    },
    end() {},
  }
}
