// What a page takes itself for until the server has said it.

import type { Role } from '@glowchart/shared/access/role.ts'

/** The laptop's own page comes by a name of loopback, a guest's by an address; without a page (in tests) it is the former. */
export function roleByAddress(): Role {
  const { hostname } = globalThis.location ?? { hostname: 'localhost' }
  return ['localhost', '127.0.0.1', '[::1]'].includes(hostname) ? 'owner' : 'viewer'
}
