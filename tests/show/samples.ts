// The sample documents of tests: a small rig and a small show with one of everything.

import { readFileSync } from 'node:fs'
import { parseRig, parseShow } from '@glowchart/shared/show/document.ts'
import type { Documents } from '@glowchart/shared/show/edits/edit.ts'

const folder = new URL('../samples/', import.meta.url)

export const sampleJson = (name: string): unknown => JSON.parse(readFileSync(new URL(name, folder), 'utf8'))

/** A new copy each time. */
export const sampleDocuments = (): Documents => ({
  rig: parseRig(sampleJson('rig-v2.json'), 'rig-v2.json'),
  show: parseShow(sampleJson('show-v2.json'), 'show-v2.json'),
})
