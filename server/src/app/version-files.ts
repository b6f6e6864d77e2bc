// Published versions on disk: a file each, written whole and durably, and which of them runs.

import { createHash } from 'node:crypto'
import { join } from 'node:path'
import { CodedError, type Problem, problem } from '@glowchart/shared/errors.ts'
import { canonicalText } from '@glowchart/shared/show/canonical.ts'
import { objectOf, parseRig, parseShow } from '@glowchart/shared/show/document.ts'
import { parseJson } from '@glowchart/shared/show/json.ts'
import type { RunningVersion, VersionEntry } from '@glowchart/shared/version/request.ts'
import { codeOf, type Disk, nodeDisk, replaceFile } from './disk.ts'
import { versionHash } from './version-hash.ts'

/** As many are kept, besides the one that runs and the one it would go back to. */
const MOST_KEPT = 20
const FORMAT = 'glowchart-version'
/** SHA-256 of what is kept, so that a file that reads well is what was written. */
const sealOf = (published: unknown): string =>
  createHash('sha256').update(canonicalText(published)).digest('hex')
const fileName = /^([1-9]\d{0,6})\.json$/

export interface FoundVersions {
  /** Those that can be read, newest first. */
  readonly versions: readonly RunningVersion[]
  readonly damaged: readonly Problem[]
  /** The highest number of a file, damaged ones too: none is given out twice. */
  readonly highest: number
  /** The number of the one that ran last; null: none did. */
  readonly ran: number | null
}

export interface VersionFiles {
  /** All versions of a show. A file that cannot be read is named, passed over and left where it is. */
  find(show: string): Promise<FoundVersions>
  /** Durable when it resolves. @throws CodedError `data.unwritable` */
  keep(version: RunningVersion): Promise<void>
  /** Says which one runs, durably; null: none. @throws CodedError `data.unwritable` */
  sayRuns(show: string, number: number | null): Promise<void>
  /** Removes the oldest. It is not needed: nothing is said when it fails. @returns those that are left */
  prune(show: string, versions: readonly VersionEntry[], running: VersionEntry): Promise<readonly number[]>
}

/** `<data folder>/published/<show id>/<number>.json` and `runs`. */
export function versionFiles(dataFolder: string, disk: Disk = nodeDisk): VersionFiles {
  const folderOf = (show: string): string => join(dataFolder, 'published', show)

  async function durably(show: string, name: string, text: string): Promise<void> {
    const folder = folderOf(show)
    try {
      await disk.makeFolder(folder)
      await disk.syncFolder(join(dataFolder, 'published'))
      await disk.syncFolder(dataFolder)
      await replaceFile(disk, folder, name, text)
    } catch (error) {
      throw new CodedError('data.unwritable', `cannot be written: ${(error as Error).message}`, folder)
    }
  }

  async function read(path: string, number: number, show: string): Promise<RunningVersion> {
    const text = await disk.read(path).catch(error => {
      throw new CodedError('file.unreadable', `the file cannot be read (${(error as Error).message})`, path)
    })
    const { format, seal, published } = objectOf(parseJson(text, path), path)
    if (format !== FORMAT || seal !== sealOf(published))
      throw new CodedError('file.damaged', 'it is not what was written', path)
    const { rig, show: of, ...entry } = published as RunningVersion
    // An older Glowchart's documents are brought up to date, and are others then.
    const documents = { rig: parseRig(rig, path), show: parseShow(of, path) }
    if (documents.show.id !== show || entry.number !== number)
      throw new CodedError('file.damaged', `it is version ${entry.number} of "${documents.show.id}"`, path)
    return { ...entry, ...documents, hash: versionHash(documents.rig, documents.show) }
  }

  return {
    async find(show) {
      const folder = folderOf(show)
      const damaged: Problem[] = []
      const names = await disk.list(folder).catch(error => {
        const says = `the versions cannot be read (${(error as Error).message})`
        if (codeOf(error) !== 'ENOENT') damaged.push(problem('file.unreadable', says, folder))
        return [] as string[]
      })
      const numbers = names.flatMap(name => fileName.exec(name)?.slice(1).map(Number) ?? [])
      numbers.sort((a, b) => b - a)
      const versions: RunningVersion[] = []
      for (const number of numbers) {
        const path = join(folder, `${number}.json`)
        try {
          versions.push(await read(path, number, show))
        } catch (error) {
          const { message } = error as Error
          damaged.push(
            problem('file.damaged', `version ${number} cannot be read and is passed over: ${message}`, path),
          )
        }
      }
      const ran = await disk.read(join(folder, 'runs')).catch(() => '')
      return { versions, damaged, highest: numbers[0] ?? 0, ran: /^\d+\n$/.test(ran) ? Number(ran) : null }
    },

    keep: version =>
      durably(
        version.show.id,
        `${version.number}.json`,
        canonicalText({ format: FORMAT, seal: sealOf(version), published: version }),
      ),

    sayRuns: (show, number) => durably(show, 'runs', `${number ?? 'none'}\n`),

    async prune(show, versions, running) {
      const stays = new Set([running.number, running.before])
      const gone = versions.slice(MOST_KEPT).filter(({ number }) => !stays.has(number))
      for (const { number } of gone) await disk.remove(join(folderOf(show), `${number}.json`)).catch(() => {})
      return versions.filter(version => !gone.includes(version)).map(({ number }) => number)
    },
  }
}
