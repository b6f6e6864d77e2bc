// Whether a box is out of play: everything that stands in its sockets is missing tonight.

import type { Kit } from '../show/schema.ts'

/** False for a box that is not out, or that nothing stands in. */
export function boxIsOut(kit: Kit, box: string): boolean {
  const stands = Object.values(kit.boxes[box]?.sockets ?? {})
  return stands.length > 0 && stands.every(({ missing }) => missing === true)
}
