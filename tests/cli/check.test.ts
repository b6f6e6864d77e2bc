// `check` and `songs` as a user runs them: advice, exit codes, damaged files named, nothing written.

import { mkdtempSync, readdirSync, rmSync } from 'node:fs'
import { tmpdir } from 'node:os'
import { join } from 'node:path'
import { fileURLToPath } from 'node:url'
import { expect, it } from 'vitest'
import { run } from '../support/processes.ts'

const samples = fileURLToPath(new URL('../samples', import.meta.url))

it('has nothing to advise on the demo, on either kit', async () => {
  for (const words of [[], ['--kit', 'Fly box, eight sockets']]) {
    const { code, stdout } = await run(['check', 'demo', ...words])
    expect([code, stdout]).toEqual([0, 'The Provincial Department of Oh: nothing to advise.\n'])
  }
})

it('advises on the faulty sample with places, remedies and sources, and exits with 1', async () => {
  const { code, stdout } = await run(['check', join(samples, 'faulty.json')])
  expect(code).toBe(1)
  expect(stdout).toMatch(/^stop: /m)
  expect(stdout).toMatch(/^heed: .*bar \d+/m)
  expect(stdout).toMatch(/WCAG 2\.2/)
})

it('gives each damaged file its own code and place, exits with 1, and writes nothing', async () => {
  const folder = join(samples, 'damaged')
  const files = readdirSync(folder)
  const home = mkdtempSync(join(tmpdir(), 'glowchart-home-'))
  const heads = await Promise.all(
    files.map(async file => {
      const { code, stdout, stderr } = await run(['check', join(folder, file)], { HOME: home })
      expect([file, code, stdout]).toEqual([file, 1, ''])
      expect(stderr).toContain(file)
      return stderr.split(':')[0]!
    }),
  )
  expect(readdirSync(home)).toEqual([])
  rmSync(home, { recursive: true })
  expect(new Set(heads).size).toBeGreaterThanOrEqual(12)
})

it('lists the songs, a title a line', async () => {
  const { stdout } = await run(['songs', 'demo'])
  expect(stdout).toBe(
    'Porchlight Arithmetic\nSalt for the Piano\nSeven Drawers Down\nSlow Ferry, Small Moon\n',
  )
})
