// The soak: the real product lives for as long as one likes, and must hold no more at the end than at the start.

import { mkdtempSync, rmSync } from 'node:fs'
import { tmpdir } from 'node:os'
import { join } from 'node:path'
import { monotonicMs } from '@glowchart/server/engine/now.ts'
import type { Drill, Figure } from '../drills/drill.ts'
import { probed } from '../drills/memory.ts'
import { onStage } from '../drills/stage.ts'
import { tally } from '../drills/tally.ts'
import { lifeOf } from './life.ts'
import { watchOver } from './watch.ts'

const MINUTE = 60_000
/** How long each thing of a round stays, ms. */
const HOLD = { long: 5000, short: 300 }
const SHORT_ROUNDS = 2

/** @param stopped resolves when somebody has had enough: the figures so far count */
export const soakUntil = (stopped: Promise<unknown>, tell: (line: string) => void): Drill => ({
  name: 'soak',
  title:
    'The product lives for as long as one likes: songs play while pages, phones, edits, outputs, MIDI clock and shows come and go',
  async run({ minutes, short }) {
    const folder = mkdtempSync(join(tmpdir(), 'glowchart-soak-'))
    const notes = join(folder, 'notes.jsonl')
    try {
      return await onStage(
        async stage => {
          const life = await lifeOf(stage)
          const watch = watchOver(stage, tally(stage.receiver), life, notes)
          const telling = setInterval(() => tell(watch.line()), MINUTE)
          const end = monotonicMs() + minutes * MINUTE
          const goesOn = (): boolean => (short ? life.done.rounds < SHORT_ROUNDS : monotonicMs() < end)
          let over = false
          const lives = async (): Promise<void> => {
            while (!over && goesOn()) await life.round(short ? HOLD.short : HOLD.long)
          }
          try {
            const living = lives()
            // Ctrl-C may have reached the product, too: what it leaves unanswered then is no fault.
            living.catch(() => {})
            await Promise.race([living, stopped])
            return watch.figures() satisfies Figure[]
          } finally {
            over = true
            clearInterval(telling)
            watch.end()
          }
        },
        [],
        probed(notes),
      )
    } finally {
      rmSync(folder, { recursive: true, force: true })
    }
  },
})
