// MIDI from a file: timed bytes, one JSON object a line, an inlet like a port.

import { readFile } from 'node:fs/promises'
import { CodedError } from '@glowchart/shared/errors.ts'

/** Bytes that arrive together, `ms` after the start of play. */
export interface TimedBytes {
  readonly ms: number
  readonly bytes: readonly number[]
}

const LATEST_MS = 1e9
const MOST_BYTES = 4096

/**
 * Reads `{"ms":…,"bytes":[…]}` lines; empty lines are passed over. In order of time, lines of one time as written.
 * Throws file.missing, file.unreadable, midi.line (naming the first line that is wrong), midi.empty.
 */
export async function readTimedBytes(path: string): Promise<TimedBytes[]> {
  const text = await readFile(path, 'utf8').catch((error: NodeJS.ErrnoException) => {
    if (error.code === 'ENOENT') throw new CodedError('file.missing', 'there is no such file', path)
    throw new CodedError('file.unreadable', `it cannot be read (${error.code})`, path)
  })
  return parseTimedBytes(text, path)
}

/** The same from text; `from` names where it came from in errors. */
export function parseTimedBytes(text: string, from: string): TimedBytes[] {
  const all: TimedBytes[] = []
  for (const [i, words] of text.split('\n').entries()) {
    if (words.trim() !== '') all.push(parseLine(words, `${from}, line ${i + 1}`))
  }
  if (all.length === 0) throw new CodedError('midi.empty', 'it holds no timed bytes', from)
  return all.sort((a, b) => a.ms - b.ms)
}

function parseLine(words: string, where: string): TimedBytes {
  let value: unknown
  try {
    value = JSON.parse(words)
  } catch {
    throw new CodedError('midi.line', 'this is not JSON', where)
  }
  const wrong = (what: string): CodedError => new CodedError('midi.line', what, where)
  if (typeof value !== 'object' || value === null || Array.isArray(value))
    throw wrong('this is not a JSON object')
  const extra = Object.keys(value).find(key => key !== 'ms' && key !== 'bytes')
  if (extra !== undefined) throw wrong(`it has a field "${extra}" besides "ms" and "bytes"`)
  const { ms, bytes } = value as Record<string, unknown>
  if (typeof ms !== 'number' || !(ms >= 0 && ms <= LATEST_MS)) {
    throw wrong(`"ms" must be a number from 0 to ${LATEST_MS}`)
  }
  if (!Array.isArray(bytes) || bytes.length < 1 || bytes.length > MOST_BYTES || !bytes.every(isByte)) {
    throw wrong(`"bytes" must be a list of 1 to ${MOST_BYTES} whole numbers from 0 to 255`)
  }
  return { ms, bytes }
}

const isByte = (value: unknown): value is number =>
  typeof value === 'number' && Number.isInteger(value) && value >= 0 && value <= 255
