// Reads a show file that the command line names.

import { readFile, stat } from 'node:fs/promises'
import { CodedError } from '@glowchart/shared/errors.ts'
import { type Bundle, MOST_BUNDLE_BYTES, parseBundle } from '@glowchart/shared/show/bundle.ts'

/** @throws CodedError `file.*` or `document.*`, naming the file and the place in it */
export async function readBundleFile(path: string): Promise<Bundle> {
  try {
    // Before it is read: a file of the wrong kind may be larger than memory.
    if ((await stat(path)).size > MOST_BUNDLE_BYTES) {
      throw new CodedError('file.tooLarge', `the file has more than ${MOST_BUNDLE_BYTES} bytes`, path)
    }
    return parseBundle(await readFile(path, 'utf8'), path)
  } catch (error) {
    if (error instanceof CodedError) throw error
    const missing = (error as NodeJS.ErrnoException).code === 'ENOENT'
    throw new CodedError(
      missing ? 'file.missing' : 'file.unreadable',
      missing ? 'there is no such file' : `the file cannot be read (${(error as Error).message})`,
      path,
    )
  }
}
