// Joining from the network: what the server takes this page for, and the PIN sent to it.

import type { Role } from '@glowchart/shared/access/role.ts'
import type { Problem } from '@glowchart/shared/errors.ts'
import { useSession } from '../document/session.ts'

/** Shows the page that asks for the PIN when the server does not know us (any more). */
export async function askWhoWeAre(): Promise<void> {
  try {
    const response = await fetch('/api/me', { cache: 'no-store' })
    if (!response.ok) return
    const { role } = (await response.json()) as { role: Role | null }
    if (role === null) useSession.setState({ isStranger: true })
  } catch {
    // The server is not there: the connection tries again by itself.
  }
}

/**
 * The PIN that came with the address: the QR code has it in the fragment, which is not sent with the request for the
 * page. Read before the fragment becomes the name of a place.
 */
export const pinInAddress = /^#join=(\d{4,20})$/.exec(globalThis.location?.hash ?? '')?.[1] ?? ''

/** Resolves with what was wrong; when nothing was, the page is loaded anew as a guest's. */
export async function join(pin: string, name: string): Promise<string> {
  try {
    const response = await fetch('/api/join', { method: 'POST', body: JSON.stringify({ pin, name }) })
    if (!response.ok) {
      const { message, remedy } = (await response.json()) as Problem
      return `${message.charAt(0).toUpperCase()}${message.slice(1)}. ${remedy}`
    }
  } catch {
    return 'Glowchart does not answer. Is this phone on the same network as the laptop?'
  }
  location.hash = '#run'
  location.reload()
  return ''
}
