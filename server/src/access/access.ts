// Others on the network: opened and closed by the laptop's own page, joined with a PIN, each with a role.

import type { IncomingMessage, Server } from 'node:http'
import type { AddressInfo, Socket } from 'node:net'
import { networkInterfaces } from 'node:os'
import type { AccessState, AccessWish } from '@glowchart/shared/access/access.ts'
import type { Role } from '@glowchart/shared/access/role.ts'
import { CodedError } from '@glowchart/shared/errors.ts'
import type { FastifyInstance } from 'fastify'
import { readAccess, writeAccess } from './access-file.ts'
import { attempts } from './attempts.ts'
import { tokenOf } from './cookie.ts'
import { listenAt, stopListening } from './lan.ts'
import { hashPin, isPin, newPin } from './pin.ts'
import { sessions } from './sessions.ts'

/** An address that is not there yet (Wi-Fi that comes up later) is tried again so often, ms. */
const TRY_AGAIN = 5000

/** Who is at a connection. The role is read anew each time: it may be given and taken back. */
export interface Who {
  /** Null: the laptop itself. */
  readonly guest: string | null
  /** Null: their session has ended. */
  readonly role: Role | null
}

export interface Access {
  /** Null: a stranger, who has to join. */
  whoIs(request: IncomingMessage): Who | null
  /** Takes note of a connection of the loopback listener; every other one is a guest's. */
  takeOwn(socket: Socket): void
  isOwn(socket: Socket): boolean
  /**
   * Lets somebody in who knows the PIN. @param address where they ask from
   * @returns the token that is theirs from now on
   * @throws CodedError `access.pin`, `access.wait`, `access.full`
   */
  join(pin: string, name: string, address: string): Promise<string>
  /** @throws CodedError `access.*`, `request.port`, `data.unwritable`; nothing is opened or given then */
  wish(wish: AccessWish): Promise<void>
  state(pagesOf: (guest: string) => number): AccessState
  /** Called when anything of the state has changed, and when a role or session has. */
  listen(listener: () => void): void
  /** Takes up what was kept, once the app listens on loopback. */
  start(app: FastifyInstance): Promise<void>
  close(): void
  /** What was wrong with what was kept; empty when nothing was. */
  readonly notice: string
}

export interface AccessOptions {
  dataFolder: string
  /** Ms since 1970. */
  now: () => number
}

const OWNER: Who = { guest: null, role: 'owner' }

export async function openAccess({ dataFolder, now }: AccessOptions): Promise<Access> {
  const { kept, says: notice } = await readAccess(dataFolder)
  const tries = attempts(now, kept?.attempts ?? null)
  const joined = sessions(now, kept?.guests ?? [])
  const own = new WeakSet<Socket>()
  const listeners: (() => void)[] = []
  let app: FastifyInstance | null = null
  let open = kept?.open ?? null
  let pinHash = kept?.pin ?? null
  let pin: string | null = null
  let server: Server | null = null
  /** Why it does not listen where it should. */
  let says = ''
  /** Why what was last changed would not outlast a restart. */
  let unsaved = ''
  let again: ReturnType<typeof setInterval> | undefined

  const tell = (): void => {
    for (const listener of listeners) listener()
  }
  let port = 0

  /** One write at a time, the newest state. */
  let writing: Promise<void> = Promise.resolve()
  const keep = (): Promise<void> => {
    const write = () =>
      writeAccess(dataFolder, { open, pin: pinHash, guests: [...joined.guests], attempts: tries.state })
    writing = writing.then(write, write)
    return writing
  }
  /** What is taken from a guest is taken though the disk is full; the page says that it was not saved. */
  const keepIfPossible = (): Promise<void> =>
    keep().then(
      () => {
        unsaved = ''
      },
      error => {
        unsaved = (error as Error).message
      },
    )

  const stop = (): void => {
    clearInterval(again)
    if (server) stopListening(server)
    server = null
    says = ''
  }
  const listenAgain = async (): Promise<void> => {
    if (!open || server || !app) return
    const { address } = open
    try {
      const made = await listenAt(app, address, port)
      // Closed, or opened elsewhere, meanwhile.
      if (open?.address !== address || server) return stopListening(made)
      server = made
      says = ''
    } catch (error) {
      if (!(error instanceof CodedError)) throw error
      if (says === error.message) return
      says = error.message
    }
    tell()
  }
  const keepListening = (): void => {
    again = setInterval(() => void listenAgain(), TRY_AGAIN)
    again.unref()
  }

  async function freshPin(): Promise<void> {
    const made = newPin()
    pinHash = await hashPin(made)
    pin = made
    joined.clear()
    tries.clear()
  }

  function closeAll(): void {
    stop()
    open = pin = pinHash = null
    joined.clear()
    tries.clear()
  }

  async function carryOut(wish: AccessWish): Promise<void> {
    switch (wish.do) {
      case 'open': {
        if (!server || open?.address !== wish.address) {
          const made = await listenAt(app!, wish.address, port)
          stop()
          server = made
          keepListening()
        }
        open = { address: wish.address }
        await freshPin()
        await keep().catch(error => {
          closeAll()
          throw error
        })
        break
      }
      case 'close':
        closeAll()
        break
      case 'pin':
        await freshPin()
        break
      case 'role':
        joined.byId(wish.guest).role = wish.role
        break
      case 'dismiss':
        joined.remove(joined.byId(wish.guest))
    }
  }

  /** Tries of the PIN and wishes are done one after the other. */
  let queue: Promise<unknown> = Promise.resolve()
  const inTurn = <T>(work: () => Promise<T>): Promise<T> => {
    const done = queue.then(work)
    queue = done.catch(() => {})
    return done
  }

  return {
    notice,
    takeOwn: socket => void own.add(socket),
    isOwn: socket => own.has(socket),
    whoIs(request) {
      if (own.has(request.socket)) return OWNER
      const token = tokenOf(request.headers.cookie)
      const found = token === null ? null : joined.find(token)
      if (!found) return null
      return {
        guest: found.id,
        get role() {
          return joined.lives(found) ? found.role : null
        },
      }
    },
    async join(typed, name, address) {
      const waits = tries.take(address)
      if (waits > 0) {
        throw new CodedError('access.wait', `too many tries: ${Math.ceil(waits / 1000)} s to wait`, address)
      }
      return inTurn(async () => {
        // On the disk before it is looked at, so that a restart forgives nothing.
        await keepIfPossible()
        if (!pinHash || !(await isPin(typed, pinHash))) {
          throw new CodedError('access.pin', 'that is not the PIN', 'PIN')
        }
        tries.right(address)
        const token = joined.add(name, address)
        await keepIfPossible()
        tell()
        return token
      })
    },
    wish: wish =>
      inTurn(async () => {
        try {
          await carryOut(wish)
        } finally {
          // At once: whose session has ended does not wait for the disk.
          tell()
        }
        const before = unsaved
        await keepIfPossible()
        if (unsaved !== before) tell()
      }),
    state: pagesOf => ({
      open: open && { address: open.address, url: `http://${open.address}:${port}`, says },
      pin,
      unsaved,
      interfaces: addresses(),
      guests: joined.guests.map(({ id, name, role, address }) => ({
        id,
        name,
        role,
        address,
        pages: pagesOf(id),
      })),
    }),
    listen: listener => void listeners.push(listener),
    async start(started) {
      app = started
      port = (started.server.address() as AddressInfo).port
      if (!open) return
      await listenAgain()
      keepListening()
    },
    close: stop,
  }

  function addresses(): AccessState['interfaces'] {
    return Object.entries(networkInterfaces()).flatMap(([name, all = []]) =>
      all
        .filter(one => one.family === 'IPv4' && !one.internal)
        .map(({ address, netmask }) => ({ name, address, netmask })),
    )
  }
}
