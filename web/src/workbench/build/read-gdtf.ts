// Reads a GDTF file that was chosen on this page. Loaded only then: it brings what unpacks ZIP and reads XML.

import { CodedError } from '@glowchart/shared/errors.ts'
import { MOST_GDTF_BYTES, openGdtf } from '@glowchart/shared/gdtf/archive.ts'
import { buildFromMode, type GdtfBuild } from '@glowchart/shared/gdtf/build.ts'
import { type GdtfFixture, type GdtfMode, readFixture } from '@glowchart/shared/gdtf/modes.ts'

/** @throws CodedError `gdtf.*` */
export async function readGdtf(file: File): Promise<GdtfFixture> {
  // Before the whole of it is in memory.
  if (file.size > MOST_GDTF_BYTES) {
    throw new CodedError('gdtf.tooLarge', `the file has ${Math.ceil(file.size / 2 ** 20)} MiB`, file.name)
  }
  return readFixture(openGdtf(new Uint8Array(await file.arrayBuffer()), file.name), file.name)
}

/** @throws CodedError `gdtf.*` */
export const gdtfBuild = (mode: GdtfMode, where: string): GdtfBuild => buildFromMode(mode, where)
