// Enforces the shape of the code: who may import whom, how long a file may be, what its first line says.

import { execFileSync } from 'node:child_process'
import { readFileSync } from 'node:fs'
import { dirname, join, normalize, sep } from 'node:path'
import { fileURLToPath } from 'node:url'
import { describe, expect, it } from 'vitest'

const root = fileURLToPath(new URL('..', import.meta.url))
const files = execFileSync('git', ['ls-files', '-co', '--exclude-standard'], { cwd: root, encoding: 'utf8' })
  .split('\n')
  .filter(file => /\.(ts|tsx)$/.test(file))
const read = (file: string): string => readFileSync(join(root, file), 'utf8')

/** Which top folders a file of a top folder may import from, type imports included. */
const allowed: Record<string, string[]> = {
  shared: ['shared'],
  server: ['shared', 'server'],
  web: ['shared', 'web'],
  tests: ['shared', 'server', 'web', 'tests'],
}
/** Catch-all names that hide what a file is for. */
const kinds = /(^|\/)(hooks|utils?|helpers?|components?|types?|managers?|common|misc|index)(\.tsx?$|\/)/

const specifiers = (source: string): string[] =>
  [
    ...source.matchAll(/(?:from|import)\s*\(?\s*['"]([^'"]+)['"]/g),
    ...source.matchAll(/new URL\(\s*['"](\.[^'"]+)['"],\s*import\.meta\.url/g),
  ].map(m => m[1]!)

/** The top folder that an import leads to; null for a package from outside. */
function target(file: string, specifier: string): string | null {
  if (specifier.startsWith('.')) return normalize(join(dirname(file), specifier)).split(sep)[0]!
  return /^@glowchart\/(\w+)/.exec(specifier)?.[1] ?? null
}

const violations = (file: string): string[] => {
  const from = file.split('/')[0]!
  return specifiers(read(file))
    .map(specifier => ({ specifier, to: target(file, specifier) }))
    .filter(({ to }) => to !== null && to in allowed && allowed[from] && !allowed[from].includes(to))
    .map(({ specifier }) => `${file} imports ${specifier}`)
}

// Spelled in pieces, so that this file does not read as importing them.
const sample = ['./a.ts', '../b.ts', '@glowchart/web/c.ts', './d.ts']

describe('the shape of the code', () => {
  it('reads imports of every form', () => {
    const [a, b, c, d] = sample
    const source = `import a from '${a}'\nimport type { B } from "${b}"\nexport * from '${c}'\nawait import('${d}')`
    expect(specifiers(source)).toEqual(sample)
  })

  it('lets shared import shared, server and web import shared, and tests import all; no exemption for types', () => {
    expect(files.length).toBeGreaterThan(50)
    expect(files.flatMap(violations)).toEqual([])
  })

  it('keeps shared free of the time of day and of chance (its compiler knows neither Node nor the DOM)', () => {
    const impure = /Math\.random|Date\.now|new Date\(\)|globalThis/
    const code = (file: string): string => read(file).replace(/\/\/.*|\/\*[\s\S]*?\*\//g, '')
    expect(files.filter(file => file.startsWith('shared/src') && impure.test(code(file)))).toEqual([])
  })

  it('has no file above 400 lines', () => {
    const long = files
      .map(file => `${file}: ${read(file).split('\n').length - 1}`)
      .filter(row => Number(row.split(': ')[1]) > 400)
    expect(long).toEqual([])
  })

  it('says in the first line what each file is for', () => {
    expect(files.filter(file => !read(file).startsWith('// '))).toEqual([])
  })

  it('names folders and files for what they do, not for their kind', () => {
    expect(files.filter(file => kinds.test(file))).toEqual([])
  })

  it('has no registry address in the lock file', () => {
    expect(readFileSync(join(root, 'pnpm-lock.yaml'), 'utf8')).not.toMatch(/https?:\/\//)
  })
})
