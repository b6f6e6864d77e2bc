// How the page's files go out: compressed for who takes it, kept for good where the name says what is in it.

import { mkdirSync, writeFileSync } from 'node:fs'
import { join } from 'node:path'
import { gzipSync } from 'node:zlib'
import { afterEach, beforeEach, describe, expect, it } from 'vitest'
import { type RunningApp, runApp } from './running-app.ts'

const SCRIPT = '// a line that is long enough to be worth it\n'.repeat(200)
let running: RunningApp

beforeEach(async () => {
  running = await runApp()
  mkdirSync(join(running.page, 'assets'))
  writeFileSync(join(running.page, 'assets/part-abc123.js'), SCRIPT)
  writeFileSync(join(running.page, 'assets/part-abc123.js.gz'), gzipSync(SCRIPT))
  writeFileSync(join(running.page, 'assets/plain-abc123.woff2'), 'a typeface')
})
afterEach(() => running.close())

const get = (path: string, codings: string): Promise<Response> =>
  fetch(running.url + path, { headers: { 'accept-encoding': codings } })

describe('Files of the page', () => {
  it('go out compressed to a browser that takes gzip, with the type of what is in them', async () => {
    for (const codings of ['gzip, deflate', 'gzip, deflate, br']) {
      const answer = await get('/assets/part-abc123.js', codings)
      expect(answer.headers.get('content-encoding')).toBe('gzip')
      expect(answer.headers.get('content-type')).toContain('javascript')
      expect(answer.headers.get('vary')).toBe('accept-encoding')
      expect(await answer.text()).toBe(SCRIPT)
    }
  })

  it('go out as they are to one that does not, and where there is nothing compressed', async () => {
    const plain = await get('/assets/part-abc123.js', 'identity')
    expect(plain.headers.get('content-encoding')).toBeNull()
    expect(await plain.text()).toBe(SCRIPT)
    const typeface = await get('/assets/plain-abc123.woff2', 'gzip')
    expect(typeface.headers.get('content-encoding')).toBeNull()
    expect(await typeface.text()).toBe('a typeface')
    expect((await get('/assets/nothing.js', 'gzip')).status).toBe(404)
  })

  it('are kept for good where their name has their hash; the page itself is asked for each time', async () => {
    expect((await get('/assets/part-abc123.js', 'gzip')).headers.get('cache-control')).toMatch(/immutable/)
    expect((await get('/', 'gzip')).headers.get('cache-control')).toBe('no-cache')
  })
})
