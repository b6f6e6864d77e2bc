// The log on disk: one file a night, one line an event, appended and made durable; old nights go, and none grows for ever.

import { mkdir, open, readdir, rm, stat } from 'node:fs/promises'
import { join } from 'node:path'
import { eveningOf } from '@glowchart/shared/night/evening.ts'
import type { NightEvent } from '@glowchart/shared/night/event.ts'

/** As many nights are kept. */
const NIGHTS = 60
/** Bytes of one night: some thirty thousand events. */
const MOST_BYTES = 4 * 1024 * 1024
/** Events that wait while the disk takes nothing; the oldest of them stay, which tell how it began. */
const MOST_WAITING = 5000
/** A disk that took nothing is tried again after so long, ms. */
const AGAIN = 5000

export const nightsFolder = (dataFolder: string): string => join(dataFolder, 'nights')
export const nightFile = (dataFolder: string, evening: string): string =>
  join(nightsFolder(dataFolder), `${evening}.jsonl`)
const NAME = /^(\d{4}-\d\d-\d\d)\.jsonl$/

/** The evenings that have a log, newest first. */
export async function eveningsIn(dataFolder: string): Promise<string[]> {
  const names = await readdir(nightsFolder(dataFolder)).catch(() => [])
  return names
    .flatMap(name => NAME.exec(name)?.[1] ?? [])
    .sort()
    .reverse()
}

export interface NightLog {
  /** Never throws, never waits. */
  add(event: NightEvent): void
  /** Resolves when what was added is on the disk, or cannot be. */
  close(): Promise<void>
}

export interface NightLogOptions {
  /** Minutes that local time is ahead of UTC at a moment, ms since 1970. */
  offsetAt?: (at: number) => number
  nights?: number
  mostBytes?: number
}

export function openNightLog(dataFolder: string, options: NightLogOptions = {}): NightLog {
  const {
    offsetAt = at => -new Date(at).getTimezoneOffset(),
    nights = NIGHTS,
    mostBytes = MOST_BYTES,
  } = options
  let waiting: NightEvent[] = []
  let writing: Promise<void> | null = null
  let again: NodeJS.Timeout | undefined
  /** The night that was written to last, and its bytes; Infinity: it is full. */
  let night = { evening: '', bytes: 0 }
  let hasComplained = false

  const eveningAt = ({ at }: NightEvent): string => eveningOf(Date.parse(at), offsetAt(Date.parse(at)))

  async function write(): Promise<void> {
    while (waiting.length > 0) {
      const evening = eveningAt(waiting[0]!)
      const batch = waiting.filter(event => eveningAt(event) === evening)
      await append(evening, batch)
      waiting = waiting.filter(event => !batch.includes(event))
    }
  }

  async function append(evening: string, events: readonly NightEvent[]): Promise<void> {
    const path = nightFile(dataFolder, evening)
    if (night.evening !== evening) {
      await mkdir(nightsFolder(dataFolder), { recursive: true })
      for (const old of (await eveningsIn(dataFolder)).filter(one => one !== evening).slice(nights - 1))
        await rm(nightFile(dataFolder, old), { force: true })
      night = { evening, bytes: await sizeOf(path) }
    }
    if (night.bytes >= mostBytes) return
    let text = events.map(event => `${JSON.stringify(event)}\n`).join('')
    const isFull = night.bytes + text.length >= mostBytes
    if (isFull) text = `${JSON.stringify(full(events[0]!))}\n`
    const file = await open(path, 'a')
    try {
      // A line that a power cut left half-way must not swallow the next one.
      if (night.bytes > 0 && !(await endsLine(path, night.bytes))) text = `\n${text}`
      await file.appendFile(text)
      await file.datasync()
    } finally {
      await file.close()
    }
    night.bytes = isFull ? Number.POSITIVE_INFINITY : night.bytes + Buffer.byteLength(text)
  }

  const start = (): void => {
    clearTimeout(again)
    again = undefined
    writing ??= write()
      .then(
        () => {
          hasComplained = false
        },
        error => {
          // What could not be written waits; a half-written file is measured anew.
          night = { evening: '', bytes: 0 }
          if (!hasComplained) process.stderr.write(`The log of the night: ${(error as Error).message}\n`)
          hasComplained = true
          again = setTimeout(start, AGAIN)
          again.unref()
        },
      )
      .finally(() => {
        writing = null
        if (waiting.length > 0 && !again) start()
      })
  }

  return {
    add(event) {
      if (waiting.length >= MOST_WAITING) return
      waiting.push(event)
      if (!again) start()
    },
    async close() {
      clearTimeout(again)
      again = undefined
      if (waiting.length > 0) start()
      await writing
      clearTimeout(again)
    },
  }
}

const full = ({ at }: NightEvent): NightEvent => ({
  at,
  kind: 'log',
  says: 'The log of this night is full: what comes after is not kept.',
  fault: true,
})

async function sizeOf(path: string): Promise<number> {
  return stat(path).then(
    ({ size }) => size,
    () => 0,
  )
}

async function endsLine(path: string, size: number): Promise<boolean> {
  const file = await open(path, 'r')
  try {
    const { buffer } = await file.read(Buffer.alloc(1), 0, 1, size - 1)
    return buffer[0] === 10
  } finally {
    await file.close()
  }
}
