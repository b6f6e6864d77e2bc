// The error list and its page in the docs say the same.

import { readFileSync } from 'node:fs'
import { remedies } from '@glowchart/shared/errors.ts'
import { expect, it } from 'vitest'

it('docs/errors.md lists every code with its remedy, and none that is not there', () => {
  const page = readFileSync(new URL('../docs/errors.md', import.meta.url), 'utf8')
  const rows = [...page.matchAll(/^\| `([^`]+)` \| (.+) \|$/gm)].map(([, code, remedy]) => [code, remedy])
  expect(rows).toEqual(Object.entries(remedies))
})
