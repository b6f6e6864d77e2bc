// Fetches what the laptop that leads plays, one fetch at a time, and its recordings after it.

import { parseRig, parseShow } from '@glowchart/shared/show/document.ts'
import type { Documents } from '@glowchart/shared/show/edits/edit.ts'
import type { Output } from '@glowchart/shared/show/output.ts'
import { audioSchema } from '@glowchart/shared/show/song.ts'
import { handedSchema, type Kept } from '@glowchart/shared/understudy/channel.ts'
import { keepRecordings, readRecording } from '../app/audio.ts'
import { openPartner } from './asking.ts'

/** Two fetches are so far apart, ms: an edit a second does not keep a laptop busy. */
const APART = 1000

export interface Fetched {
  readonly documents: Documents
  readonly output: Output
  readonly content: string
  readonly outputHash: string
}

export interface Fetching {
  /** Fetches soon, unless it does already. */
  wish(): void
  stop(): void
}

export function fetching(
  dataFolder: string,
  kept: () => Kept,
  fetched: (got: Fetched) => void,
  failed: (says: string) => void,
): Fetching {
  let busy = false
  let stopped = false
  let last = Number.NEGATIVE_INFINITY

  async function fetch(): Promise<void> {
    const { id, partner } = kept()
    if (!partner) return
    const secret = Buffer.from(partner.secret, 'hex')
    const asked = await openPartner(partner.address, partner.port, id, secret)
    try {
      const text = await asked.show()
      if (text === null || stopped) return
      const handed = handedSchema.parse(JSON.parse(text))
      const where = `the show of ${partner.name}`
      const documents = { rig: parseRig(handed.rig, where), show: parseShow(handed.show, where) }
      fetched({ documents, output: handed.output, content: handed.content, outputHash: handed.outputHash })
      for (const song of Object.values(documents.show.songs)) {
        const file = song.audio?.file
        if (file === undefined || stopped || (await readRecording(dataFolder, file)) !== null) continue
        const bytes = await asked.recording(file)
        if (bytes) await keepRecordings(dataFolder, { [file]: bytes.toString('base64') }, where)
      }
    } finally {
      asked.end()
    }
  }

  return {
    wish() {
      const now = performance.now()
      if (busy || stopped || now - last < APART) return
      busy = true
      last = now
      fetch()
        .then(
          () => failed(''),
          error => failed(`its show does not come: ${(error as Error).message}`),
        )
        .finally(() => {
          busy = false
        })
    },
    stop() {
      stopped = true
    },
  }
}

/** Octets of the largest recording that is handed over; a larger one is copied by hand. */
const MOST_HANDED = 200 * 1024 * 1024

/** A recording by the name that a show gives it; null for any other name, and when there is none. */
export async function recordingOf(dataFolder: string, file: string): Promise<Buffer | null> {
  if (!audioSchema.shape.file.safeParse(file).success) return null
  const bytes = await readRecording(dataFolder, file)
  return bytes && bytes.length <= MOST_HANDED ? bytes : null
}
