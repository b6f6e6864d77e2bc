// Guests of a running app: opens it at another loopback address as if that were the network, and joins with the PIN.

import type { AccessState } from '@glowchart/shared/access/access.ts'
import type { GuestRole } from '@glowchart/shared/access/role.ts'
import { openPage, type PageSocket } from './page-socket.ts'

/** All of 127.0.0.0/8 is this computer (RFC 1122 3.2.1.3), and to the app an address as any other but 127.0.0.1. */
export const GUESTS_AT = '127.0.0.2'

export interface Opened {
  readonly url: string
  readonly pin: string
  /** The newest state that the laptop's page was told. */
  state(): AccessState
  join(name: string): Promise<Joined>
}

export interface Joined {
  readonly cookie: string
  readonly id: string
  page(client?: string): Promise<PageSocket>
}

/** Opens the app to guests by the wish of a page of the laptop itself. */
export async function openToGuests(owner: PageSocket): Promise<Opened> {
  const answer = await owner.ask({ type: 'access', access: { do: 'open', address: GUESTS_AT } })
  if (answer.type !== 'done') throw new Error(answer.problem.message)
  const state = (): AccessState => {
    const told = owner.messages.filter(message => message.type === 'access').at(-1)!
    return told.access
  }
  const { open, pin } = state()
  const { url } = open!
  return {
    url,
    pin: pin!,
    state,
    async join(name) {
      const response = await askToJoin(url, pin!, name)
      if (response.status !== 200) throw new Error(await response.text())
      const cookie = response.headers.get('set-cookie')!.split(';')[0]!
      return {
        cookie,
        get id() {
          return state().guests.find(guest => guest.name === name)!.id
        },
        page: (client = `page-of-${name}`) => openPage(url, client, cookie),
      }
    },
  }
}

export const askToJoin = (url: string, pin: string, name = 'Somebody'): Promise<Response> =>
  fetch(`${url}/api/join`, { method: 'POST', body: JSON.stringify({ pin, name }) })

export const give = (owner: PageSocket, guest: string, role: GuestRole) =>
  owner.ask({ type: 'access', access: { do: 'role', guest, role } })
