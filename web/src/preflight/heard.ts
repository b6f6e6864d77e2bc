// The keys that were pressed since the page was opened, as far as any show could have learned them: pedals that type.

import { create } from 'zustand'

/** More than any show learns. */
const MOST = 256

export const useHeardKeys = create<{ readonly keys: readonly string[] }>(() => ({ keys: [] }))

/** Starts to listen, on every place of the page. */
export function listenForPedals(): void {
  window.addEventListener(
    'keydown',
    ({ key, repeat }) => {
      const { keys } = useHeardKeys.getState()
      if (!repeat && keys.length < MOST && !keys.includes(key))
        useHeardKeys.setState({ keys: [...keys, key] })
    },
    { capture: true },
  )
}
