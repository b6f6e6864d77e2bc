// One press after a restart: show, masters, clock, song, place and way out as they were left; stopped, and nothing before.

import { networkInterfaces } from 'node:os'
import { type Problem, problem } from '@glowchart/shared/errors.ts'
import type { EngineStatus, Transport } from '@glowchart/shared/messages.ts'
import type { Kept, Offer } from '@glowchart/shared/recovery/kept.ts'
import type { DocumentStore } from './documents.ts'
import type { Editing } from './editing.ts'
import type { EngineLink } from './engine-link.ts'
import type { ShowVersion } from './show-version.ts'
import type { SupervisorLink } from './supervisor-link.ts'

/** So long the engine may take to load another show, ms. */
const LOADED_WITHIN = 10_000

export interface Recovery {
  /** Null: there is nothing to go on from. */
  readonly offer: Offer | null
  /**
   * `goOn`: brings back what was left. `fresh`: puts it aside. Resolves with what could not be brought back.
   * @throws CodedError `show.unknown` and others of a show that cannot be opened; nothing is sent then
   */
  answer(how: 'goOn' | 'fresh'): Promise<Problem | undefined>
  listen(listener: () => void): void
}

interface Options {
  supervisor: SupervisorLink
  store: DocumentStore
  editing: Editing
  version: ShowVersion
  engine: EngineLink
}

export function openRecovery({ supervisor, store, editing, version, engine }: Options): Recovery {
  const listeners: (() => void)[] = []
  const tell = (): void => {
    for (const listener of listeners) listener()
  }
  supervisor.listen(tell)

  /** Resolves once the engine plays from what is open here; false when it does not come to it. */
  function loaded(): Promise<boolean> {
    const isLoaded = ({ revision, version: hash }: EngineStatus): boolean =>
      version.running ? hash === version.running.hash : hash === null && revision === editing.revision
    return new Promise(resolve => {
      const timer = setTimeout(() => done(false), LOADED_WITHIN)
      let end: (() => void) | null = null
      const done = (well: boolean): void => {
        clearTimeout(timer)
        // The listener may be called before there is anything to end it.
        setImmediate(() => end?.())
        resolve(well)
      }
      end = engine.on(message => {
        if (message.type === 'status' && isLoaded(message.status)) done(true)
      })
    })
  }

  async function goOn(kept: Kept): Promise<Problem | undefined> {
    if (editing.documents.show.id !== kept.show.id) await editing.open(() => store.load(kept.show.id))
    if (!(await loaded())) return problem('engine.down', 'the engine does not load the show', kept.show.name)
    const press = (transport: Transport) => engine.request({ type: 'transport', transport })
    const problems: (Problem | undefined)[] = []
    problems.push(await press({ do: 'clock', source: kept.source }))
    const { song, look, place, position } = kept
    const at = place === null ? {} : { place }
    if (song) {
      const found = await press({ do: 'song', song: song.id, at: position, ...at })
      // The song may have become shorter since: it stands at its start then, and that is said.
      if (found?.code === 'transport.place') await press({ do: 'song', song: song.id, at: 0, ...at })
      problems.push(found)
    } else if (look) problems.push(await press({ do: 'look', look: look.id, ...at }))
    problems.push(await engine.request({ type: 'live', live: kept.live }))
    // Last: what is sent first is what was left, and not what stood meanwhile.
    problems.push(await engine.request({ type: 'output', output: kept.output }))
    return problems.find(one => one !== undefined)
  }

  return {
    get offer() {
      const kept = supervisor.offer
      if (!kept) return null
      const here = new Set(
        Object.values(networkInterfaces()).flatMap(all => (all ?? []).map(one => one.address)),
      )
      const via = kept.output.routes.flatMap(route => route.via ?? [])
      const { show } = editing.documents
      return {
        kept,
        gone: [...new Set(via.filter(address => !here.has(address)))],
        otherVersion: (version.running?.hash ?? null) !== kept.runs,
        otherShow: show.id !== kept.show.id,
        otherKit: show.id === kept.show.id && show.tonight !== kept.kit.id,
      }
    },
    async answer(how) {
      const kept = supervisor.offer
      const found = how === 'goOn' && kept ? await goOn(kept) : undefined
      supervisor.answered(how)
      tell()
      return found
    },
    listen: listener => void listeners.push(listener),
  }
}
