// Which role each HTTP route needs at least. A route that has no line here is the laptop's own.

import type { Role } from '@glowchart/shared/access/role.ts'

/** `anyone`: also who has not joined yet, for the page that asks for the PIN. */
export const leastOfRoute: Readonly<Record<string, Role | 'anyone'>> = {
  'GET /': 'anyone',
  'GET /*': 'anyone',
  'GET /api/me': 'anyone',
  'POST /api/join': 'anyone',
  'GET /live': 'viewer',
  'GET /api/status': 'viewer',
  'GET /api/shows': 'viewer',
  'GET /api/audio/:file': 'viewer',
  'GET /api/preflight': 'controller',
  'GET /api/nights': 'controller',
  'GET /api/nights/:evening': 'controller',
  'GET /api/export': 'controller',
  'POST /api/open': 'controller',
  'POST /api/import': 'controller',
  'POST /api/audio': 'controller',
}
