// The name that two computers can compare: the hash of what a version plays.

import { createHash } from 'node:crypto'
import type { Rig } from '@glowchart/shared/rig/schema.ts'
import type { Show } from '@glowchart/shared/show/schema.ts'
import { versionText } from '@glowchart/shared/version/request.ts'

/** SHA-256 (FIPS 180-4) of `versionText`, 64 hex digits. */
export const versionHash = (rig: Rig, show: Show): string =>
  createHash('sha256').update(versionText(rig, show)).digest('hex')
