// What a laptop keeps of its pairing, so that after a restart it knows its partner and who led: one small file.

import { randomUUID } from 'node:crypto'
import { mkdirSync, readFileSync, renameSync, writeFileSync } from 'node:fs'
import { hostname } from 'node:os'
import { join } from 'node:path'
import { type Kept, keptSchema } from '@glowchart/shared/understudy/channel.ts'

/** UDP for heartbeats, TCP for pairing and the show. No assignment known to us. */
export const PORT = 21_907

/** A test runs two on one address: its environment names another port. */
const ownPort = (): number => Number(process.env.GLOWCHART_UNDERSTUDY_PORT ?? PORT)

export const ownName = (): string => hostname().slice(0, 80) || 'Laptop'

/** A file that cannot be read, or is none, pairs with nobody. */
export function readKept(dataFolder: string): Kept {
  try {
    return keptSchema.parse(JSON.parse(readFileSync(fileIn(dataFolder), 'utf8')))
  } catch {
    return keptSchema.parse({ id: randomUUID(), port: ownPort() })
  }
}

/** Before anything is done by it: two that both think they lead after a power cut would be worse than a late word. */
export function writeKept(dataFolder: string, kept: Kept): void {
  const file = fileIn(dataFolder)
  try {
    mkdirSync(dataFolder, { recursive: true })
    writeFileSync(`${file}.new`, `${JSON.stringify(kept, null, 2)}\n`, { mode: 0o600 })
    renameSync(`${file}.new`, file)
  } catch (error) {
    // A full disk must not keep the light from going on; the pairing then lasts as long as the engine.
    process.stderr.write(`The pairing is not kept: ${(error as Error).message}\n`)
  }
}

/** Whether a laptop, as it was last, drives no light: it follows. */
export const follows = ({ on, leads, partner }: Kept): boolean => on && partner !== null && !leads

export const mustFollow = (dataFolder: string): boolean => follows(readKept(dataFolder))

const fileIn = (dataFolder: string): string => join(dataFolder, 'understudy.json')
