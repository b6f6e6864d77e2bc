// Tries every recording of the show in the background: whether this browser can decode it, one after the other.

import type { ServerFacts } from '@glowchart/shared/preflight/facts.ts'
import { create } from 'zustand'
import { decode } from '../recording/decode.ts'

/** By file: whether it could be decoded. What could not be fetched is left out: nothing is known of it. */
export const useDecoded = create<{ readonly files: Readonly<Record<string, boolean>> }>(() => ({ files: {} }))

let running = false
let wanted: readonly string[] = []

/** Decodes what the server has whole and nobody has tried yet. */
export function decodeAll(recordings: ServerFacts['recordings']): void {
  wanted = recordings.filter(one => one.state === 'whole').map(one => one.file)
  if (!running) void work()
}

/** Leaves off after the one under way. */
export function stopDecoding(): void {
  wanted = []
}

async function work(): Promise<void> {
  running = true
  for (let file = next(); file !== undefined; file = next()) {
    const could = await tried(file)
    if (could === null) wanted = wanted.filter(one => one !== file)
    else useDecoded.setState(s => ({ files: { ...s.files, [file!]: could } }))
  }
  running = false
}

const next = (): string | undefined => wanted.find(file => useDecoded.getState().files[file] === undefined)

async function tried(file: string): Promise<boolean | null> {
  const bytes = await fetch(`/api/audio/${file}`)
    .then(answer => (answer.ok ? answer.arrayBuffer() : null))
    .catch(() => null)
  if (!bytes) return null
  return decode(bytes, file).then(
    () => true,
    () => false,
  )
}
