// What a page asks of the show version: it is told how far a check has come, and what nobody waits for is left off.

import type { AppMessage, EngineStatus, PageMessage } from '@glowchart/shared/messages.ts'
import { requireOwnShow } from './adopting.ts'
import type { ShowVersion } from './show-version.ts'

type Asked = Extract<PageMessage, { type: 'version' }>

export interface VersionDesk {
  /**
   * @param page whose wish it is: it has one check under way, and its next one ends that
   * @throws CodedError `version.*`, `data.unwritable`, `understudy.*`
   */
  ask(
    page: object,
    asked: Asked,
    status: EngineStatus | null,
    tell: (message: AppMessage) => void,
  ): Promise<undefined>
  /** The page waits for its check no longer. */
  leave(page: object): void
}

export function versionDesk(version: ShowVersion): VersionDesk {
  const checks = new WeakMap<object, AbortController>()
  const leave = (page: object): void => checks.get(page)?.abort()
  return {
    leave,
    async ask(page, { seq, version: request }, status, tell) {
      if (request.do === 'leave') {
        leave(page)
        return undefined
      }
      if (request.do !== 'check') {
        requireOwnShow(status, 'version')
        await version.ask(request, status)
        return undefined
      }
      leave(page)
      const check = new AbortController()
      checks.set(page, check)
      const checked = await version.check(request.take, {
        signal: check.signal,
        told: (read, songs) => tell({ type: 'checking', seq, read, songs }),
      })
      if (checked) tell({ type: 'checked', seq, checked })
      return undefined
    },
  }
}
