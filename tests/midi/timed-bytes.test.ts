// Timed MIDI bytes from a file: read strictly, errors name the line.

import { mkdtemp, rm, writeFile } from 'node:fs/promises'
import { tmpdir } from 'node:os'
import { join } from 'node:path'
import { parseTimedBytes, readTimedBytes } from '@glowchart/server/midi/timed-bytes.ts'
import { CodedError } from '@glowchart/shared/errors.ts'
import { afterAll, beforeAll, describe, expect, it } from 'vitest'

let folder: string
beforeAll(async () => {
  folder = await mkdtemp(join(tmpdir(), 'timed-bytes-'))
})
afterAll(() => rm(folder, { recursive: true }))

describe('timed bytes', () => {
  it('come in order of time, those of one time as written, empty lines aside', async () => {
    const path = join(folder, 'clock.ndjson')
    await writeFile(
      path,
      '{"ms":20.5,"bytes":[248]}\r\n\n{"ms":0,"bytes":[250]}\n{"bytes":[248,254],"ms":0}\n',
    )
    expect(await readTimedBytes(path)).toEqual([
      { ms: 0, bytes: [250] },
      { ms: 0, bytes: [248, 254] },
      { ms: 20.5, bytes: [248] },
    ])
  })

  it.each([
    ['not JSON', 'F8'],
    ['cut short', '{"ms":1,"bytes":[248'],
    ['a list', '[1,[248]]'],
    ['null', 'null'],
    ['without ms', '{"bytes":[248]}'],
    ['with ms as text', '{"ms":"1","bytes":[248]}'],
    ['before the start', '{"ms":-1,"bytes":[248]}'],
    ['too late', '{"ms":1e10,"bytes":[248]}'],
    ['without bytes', '{"ms":1}'],
    ['with no byte', '{"ms":1,"bytes":[]}'],
    ['with one above 255', '{"ms":1,"bytes":[256]}'],
    ['with half a byte', '{"ms":1,"bytes":[1.5]}'],
    ['with bytes as text', '{"ms":1,"bytes":"F8"}'],
    ['with a field too many', '{"ms":1,"bytes":[248],"port":"a"}'],
  ])('refuse a line that is %s, and name it', (_, words) => {
    const read = (): unknown =>
      parseTimedBytes(`{"ms":0,"bytes":[250]}\n${words}\n{"ms":"also wrong"}`, 'clock.ndjson')
    expect(read).toThrow(CodedError)
    expect(read).toThrow(expect.objectContaining({ code: 'midi.line', where: 'clock.ndjson, line 2' }))
  })

  it('refuse a file that is not there, is a folder, or holds nothing', async () => {
    await expect(readTimedBytes(join(folder, 'none'))).rejects.toMatchObject({ code: 'file.missing' })
    await expect(readTimedBytes(folder)).rejects.toMatchObject({ code: 'file.unreadable' })
    expect(() => parseTimedBytes('\n\n', 'x')).toThrow(
      expect.objectContaining({ code: 'midi.empty', where: 'x' }),
    )
  })
})
