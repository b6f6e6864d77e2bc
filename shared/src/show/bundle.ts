// The bundle: a rig, a show of it and its recordings in one file, for export, import and the command line.

import { z } from 'zod'
import { CodedError } from '../errors.ts'
import type { Rig } from '../rig/schema.ts'
import { canonicalText } from './canonical.ts'
import { objectOf, parseRig, parseShow, requireFormat } from './document.ts'
import { faultOf } from './faults.ts'
import { parseJson } from './json.ts'
import { migrate } from './migrations.ts'
import type { Show } from './schema.ts'
import { audioSchema } from './song.ts'

const BUNDLE_FORMAT = 'glowchart-bundle'
const BUNDLE_VERSION = 2
const MIB = 1024 * 1024
/** Bytes of the largest bundle that is read. */
export const MOST_BUNDLE_BYTES = 256 * MIB

export interface Bundle {
  readonly rig: Rig
  readonly show: Show
  /** Recordings by the name of their file, as Base64 (RFC 4648, 4). Those that are left out are not in the bundle. */
  readonly audio?: Readonly<Record<string, string>>
}

/** 2: the recordings came in. */
const steps = [{ from: 1, up: (bundle: Readonly<Record<string, unknown>>) => ({ ...bundle, audio: {} }) }]

const audioOf = z.record(audioSchema.shape.file, z.base64())

/** The text of a bundle file; the same bundle gives the same bytes. */
export const bundleText = ({ rig, show, audio = {} }: Bundle): string =>
  canonicalText({ format: BUNDLE_FORMAT, version: BUNDLE_VERSION, rig, show, audio })

/**
 * Reads the text of a bundle file; `where` names the file in errors.
 * @throws CodedError `file.*` or `document.*`, naming line and column or the path to the first fault
 */
export function parseBundle(text: string, where: string): Bundle {
  if (text.length > MOST_BUNDLE_BYTES) {
    const says = `the file has ${Math.ceil(text.length / MIB)} MiB; at most ${MOST_BUNDLE_BYTES / MIB} are read`
    throw new CodedError('file.tooLarge', says, where)
  }
  const raw = objectOf(parseJson(text, where), where)
  requireFormat(raw, BUNDLE_FORMAT, where)
  const bundle = migrate(raw, { current: BUNDLE_VERSION, steps }, where)
  for (const field of ['rig', 'show']) {
    if (bundle[field] === undefined) {
      throw new CodedError(
        'document.schema',
        `${field}: must be an object, but is missing`,
        `${where}: ${field}`,
      )
    }
  }
  for (const field of Object.keys(bundle)) {
    if (!['format', 'version', 'rig', 'show', 'audio'].includes(field)) {
      throw new CodedError('document.unknown', `${field}: there is no such field`, `${where}: ${field}`)
    }
  }
  const rig = parseRig(bundle.rig, `${where} (rig)`)
  const show = parseShow(bundle.show, `${where} (show)`)
  if (show.rig !== rig.id) {
    const says = `rig: the show is made for the rig "${show.rig}", but the file has the rig "${rig.id}"`
    throw new CodedError('document.rig', says, `${where} (show): rig`)
  }
  const audio = audioOf.safeParse(bundle.audio)
  if (!audio.success) {
    const { path, says } = faultOf(audio.error, bundle.audio)
    const place = path ? `audio.${path}` : 'audio'
    throw new CodedError('document.schema', `${place}: ${says}`, `${where}: ${place}`)
  }
  return { rig, show, audio: audio.data }
}
