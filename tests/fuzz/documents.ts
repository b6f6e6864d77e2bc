// Fuzzed: show files, their migrations, edits, and the journal of edits.

import { readFileSync } from 'node:fs'
import { openDocuments } from '@glowchart/server/app/documents.ts'
import { startEditing } from '@glowchart/server/app/editing.ts'
import { CodedError } from '@glowchart/shared/errors.ts'
import { bundleText, parseBundle } from '@glowchart/shared/show/bundle.ts'
import { canonicalText } from '@glowchart/shared/show/canonical.ts'
import { parseRig, parseShow } from '@glowchart/shared/show/document.ts'
import { applyEdit } from '@glowchart/shared/show/edits.ts'
import { plugDisk } from '../app/plug-disk.ts'
import { randomEdit } from '../show/random-edits.ts'
import { sampleDocuments } from '../show/samples.ts'
import { tempFolder } from '../support/processes.ts'
import { type Area, answer, outcome } from './area.ts'
import { spoiltJson, spoiltText } from './spoil.ts'

const sample = (name: string): unknown =>
  JSON.parse(readFileSync(new URL(`../samples/${name}.json`, import.meta.url), 'utf8'))

/** What is read must read back the same; what is not must not have been touched. */
function read(parse: typeof parseShow | typeof parseRig, value: unknown) {
  const before = JSON.stringify(value)
  const document = answer(() => parse(value, 'fuzz'))
  if (JSON.stringify(value) !== before) throw new Error('the value was changed')
  if (!document) return undefined
  const text = canonicalText(document)
  if (canonicalText(parse(JSON.parse(text), 'fuzz')) !== text) throw new Error('it reads back as another')
  return document
}

export async function showFiles(): Promise<Area> {
  const { rig, show } = sampleDocuments()
  const text = bundleText({ rig, show })
  const bundle: unknown = JSON.parse(text)
  return {
    one(next) {
      const dice = next()
      if (dice < 0.35) return outcome(read(parseShow, spoiltJson(show, next)))
      if (dice < 0.6) return outcome(read(parseRig, spoiltJson(rig, next)))
      const broken = dice < 0.8 ? spoiltText(text, next) : JSON.stringify(spoiltJson(bundle, next))
      return outcome(answer(() => parseBundle(broken, 'fuzz')))
    },
  }
}

export async function migrations(): Promise<Area> {
  const shows = ['show-v1', 'show-v2'].map(sample)
  const rigs = ['rig-v1', 'rig-v2'].map(sample)
  return {
    one(next) {
      const isShow = next() < 0.5
      const old = (isShow ? shows : rigs)[Math.floor(next() * 2)]!
      return outcome(read(isShow ? parseShow : parseRig, spoiltJson(old, next)))
    },
  }
}

export async function editArguments(): Promise<Area> {
  let documents = sampleDocuments()
  let left = 0
  return {
    one(next) {
      // Not always the same show, and never one that only grows.
      if (left-- <= 0) {
        documents = sampleDocuments()
        left = 200
      }
      const { name, args } = randomEdit(documents, next, Math.floor(next() * 1e9))
      const before = JSON.stringify(documents)
      const spoilt = next() < 0.2 ? args : spoiltJson(args, next)
      const applied = answer(() => applyEdit(documents, name, spoilt))
      if (JSON.stringify(documents) !== before) throw new Error(`${name} changed what it was given`)
      if (!applied) return 'refused'
      documents = applied.next
      const kind = applied.document
      const text = canonicalText(documents[kind])
      const parse = kind === 'rig' ? parseRig : parseShow
      if (canonicalText(parse(JSON.parse(text), name)) !== text)
        throw new Error(`${name} left what reads back as another`)
      return 'taken'
    },
  }
}

/** A start on a journal that somebody has been at: it opens, and with documents that are whole. */
export async function journals(): Promise<Area> {
  const folder = tempFolder()
  const disk = plugDisk()
  const store = await openDocuments(folder.path, { disk })
  await store.save(sampleDocuments())
  const editing = startEditing(store, await store.load('moth-cabinet'))
  for (const title of ['one', 'two']) await editing.edit('fuzz', 'renameSong', { song: 'kettle', title })
  const whole = disk.afterPowerCut('none')
  await store.close()
  const path = `${folder.path}/edits.journal`
  return {
    async one(next) {
      const broken = whole.afterPowerCut('none')
      broken.poke(path, spoiltText(broken.peek(path), next))
      const again = await openDocuments(folder.path, { disk: broken })
      try {
        await again.load('moth-cabinet')
        return again.notices.length > 0 ? 'refused' : 'taken'
      } catch (error) {
        if (!(error instanceof CodedError)) throw error
        return 'refused'
      } finally {
        await again.close()
      }
    },
    close: async () => folder.remove(),
  }
}
