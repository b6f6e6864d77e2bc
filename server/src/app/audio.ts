// The recordings that go with songs: taken in by HTTP, kept in the data folder under the hash of their bytes, and sent out.

import { createHash, randomUUID } from 'node:crypto'
import { createReadStream } from 'node:fs'
import { mkdir, open, readdir, readFile, rename, rm, stat } from 'node:fs/promises'
import type { IncomingMessage } from 'node:http'
import { join } from 'node:path'
import { CodedError } from '@glowchart/shared/errors.ts'
import { audioSchema } from '@glowchart/shared/show/song.ts'
import type { FastifyInstance } from 'fastify'
import { type AudioKind, audioKind, HEAD_BYTES, mediaType } from './audio-format.ts'
import { nodeDisk } from './disk.ts'

const MIB = 1024 * 1024
/** Bytes of the largest recording that is taken. */
const MOST_AUDIO_BYTES = 512 * MIB

const UNFINISHED = /^\.[0-9a-f-]{36}\.new$/

/**
 * `POST /api/audio[?name=NAME]` with a file's bytes as body answers `{ file }`, its name from then on, once it is on
 * the disk; `GET /api/audio/FILE` gives them back, whole or a range (RFC 9110, 14). A file that no song names any
 * more stays: taking back an edit may name it again. @param most bytes of the largest recording that is taken
 */
export async function audioRoutes(
  app: FastifyInstance,
  dataFolder: string,
  most = MOST_AUDIO_BYTES,
): Promise<void> {
  const folder = join(dataFolder, 'audio')
  await forgetUnfinished(folder)

  await app.register(async scope => {
    // The body is written as it comes: it may be larger than the memory.
    scope.removeAllContentTypeParsers()
    scope.addContentTypeParser('*', (_request, _body, done) => done(null))
    scope.post('/api/audio', async request => {
      const { name } = request.query as { name?: unknown }
      const where = typeof name === 'string' ? name : 'the file sent'
      return { file: await keepAudio(folder, request.raw, where, most) }
    })
  })

  app.get('/api/audio/:file', async (request, reply) => {
    const { file } = request.params as { file: string }
    const size = audioSchema.shape.file.safeParse(file).success ? await sizeOf(join(folder, file)) : null
    if (size === null) {
      throw new CodedError('audio.unknown', `there is no recording "${file}" in the data folder`, file)
    }
    reply
      .type(mediaType(file.slice(file.indexOf('.') + 1) as AudioKind))
      .header('accept-ranges', 'bytes')
      .header('cache-control', 'private, max-age=31536000, immutable')
    const range = rangeOf(request.headers.range, size)
    if (range === null) return reply.header('content-length', size).send(createReadStream(join(folder, file)))
    if (range === 'outside') {
      reply.code(416).header('content-range', `bytes */${size}`)
      throw new CodedError('audio.range', `it has ${size} bytes, and none of those asked for`, file)
    }
    return reply
      .code(206)
      .header('content-range', `bytes ${range.start}-${range.end}/${size}`)
      .header('content-length', range.end - range.start + 1)
      .send(createReadStream(join(folder, file), range))
  })
}

/** The bytes of a recording; null when the data folder does not have it. */
export async function readRecording(dataFolder: string, file: string): Promise<Buffer | null> {
  return readFile(join(dataFolder, 'audio', file)).catch(() => null)
}

/**
 * Keeps recordings that came with a show, under the names they have there.
 * @throws CodedError `audio.damaged` when the bytes are not those of the name; none is kept then. `data.unwritable`
 */
export async function keepRecordings(
  dataFolder: string,
  recordings: Readonly<Record<string, string>>,
  where: string,
): Promise<void> {
  const all = Object.entries(recordings).map(([file, text]) => ({ file, bytes: Buffer.from(text, 'base64') }))
  for (const { file, bytes } of all) {
    const name = `${createHash('sha256').update(bytes).digest('hex')}.${audioKind(bytes.subarray(0, HEAD_BYTES))}`
    if (name === file) continue
    throw new CodedError(
      'audio.damaged',
      'the recording is not the one that its name says',
      `${where}: audio.${file}`,
    )
  }
  const folder = join(dataFolder, 'audio')
  for (const { file, bytes } of all) {
    // By its bytes: one that is damaged is mended by the show that brings it.
    if ((await readRecording(dataFolder, file))?.equals(bytes)) continue
    const temporary = join(folder, `.${randomUUID()}.new`)
    await onDisk(folder, async () => {
      await mkdir(folder, { recursive: true })
      const handle = await open(temporary, 'wx')
      try {
        await handle.writeFile(bytes)
        await handle.sync()
      } finally {
        await handle.close()
      }
      await rename(temporary, join(folder, file))
      await nodeDisk.syncFolder(folder)
    })
  }
}

/**
 * Writes the body of a request beside the recordings, and gives it its name when all of it is on the disk.
 * @returns that name: SHA-256 in hex and the kind
 * @throws CodedError `audio.*`, `data.unwritable`; nothing is kept then
 */
async function keepAudio(
  folder: string,
  body: IncomingMessage,
  where: string,
  most: number,
): Promise<string> {
  const temporary = join(folder, `.${randomUUID()}.new`)
  try {
    if (Number(body.headers['content-length']) > most) throw tooLarge(most, where)
    await onDisk(folder, () => mkdir(folder, { recursive: true }))
    const file = await onDisk(folder, () => open(temporary, 'wx'))
    const hash = createHash('sha256')
    let head = new Uint8Array()
    let bytes = 0
    let kind: AudioKind | null = null
    try {
      // Left early, the body must not be destroyed: its connection carries the refusal.
      for await (const chunk of body.iterator({ destroyOnReturn: false }) as AsyncIterable<Buffer>) {
        bytes += chunk.length
        if (bytes > most) throw tooLarge(most, where)
        if (kind === null) {
          head = Buffer.concat([head, chunk.subarray(0, HEAD_BYTES - head.length)])
          kind = audioKind(head)
          if (kind === null && head.length === HEAD_BYTES) throw otherFormat(where)
        }
        hash.update(chunk)
        await onDisk(folder, () => file.writeFile(chunk))
      }
      if (bytes === 0) throw new CodedError('audio.empty', 'there is nothing in it', where)
      if (kind === null) throw otherFormat(where)
      await onDisk(folder, () => file.sync())
    } finally {
      await file.close()
    }
    const name = `${hash.digest('hex')}.${kind}`
    await onDisk(folder, () => rename(temporary, join(folder, name)))
    await onDisk(folder, () => nodeDisk.syncFolder(folder))
    return name
  } catch (error) {
    await rm(temporary, { force: true }).catch(() => {})
    // The rest is read and forgotten: it would stand in the way of the next request on this connection.
    body.resume()
    if (error instanceof CodedError) throw error
    // What is left are faults of the connection: who sent it does not hear this.
    throw new CodedError('audio.broken', `the sending ended early: ${(error as Error).message}`, where)
  }
}

const tooLarge = (most: number, where: string) =>
  new CodedError('audio.tooLarge', `it has more than ${most / MIB} MiB`, where)
const otherFormat = (where: string) =>
  new CodedError('audio.format', 'its first bytes are not those of a wav, mp3, flac or ogg file', where)

async function onDisk<T>(folder: string, work: () => Promise<T>): Promise<T> {
  try {
    return await work()
  } catch (error) {
    throw new CodedError(
      'data.unwritable',
      `the recording cannot be written: ${(error as Error).message}`,
      folder,
    )
  }
}

/** What was being sent when the server ended. */
async function forgetUnfinished(folder: string): Promise<void> {
  const names = await readdir(folder).catch(() => [])
  for (const name of names) if (UNFINISHED.test(name)) await rm(join(folder, name), { force: true })
}

async function sizeOf(path: string): Promise<number | null> {
  try {
    return (await stat(path)).size
  } catch {
    return null
  }
}

/** The one range of bytes asked for, both ends included; null: all of it (RFC 9110 lets any other header be ignored). */
function rangeOf(
  header: string | undefined,
  size: number,
): { start: number; end: number } | 'outside' | null {
  const found = /^bytes=(\d*)-(\d*)$/.exec(header ?? '')
  if (!found || (found[1] === '' && found[2] === '')) return null
  const [first, last] = [found[1]!, found[2]!]
  const start = first === '' ? Math.max(0, size - Number(last)) : Number(first)
  const end = first === '' || last === '' ? size - 1 : Math.min(size - 1, Number(last))
  if (start >= size || (first === '' && Number(last) === 0)) return 'outside'
  return end < start ? null : { start, end }
}
