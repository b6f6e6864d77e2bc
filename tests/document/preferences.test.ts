// What this browser keeps of the preferences may be anything, and its storage may be full: the page goes on.

import { expect, it, vi } from 'vitest'

it('takes what is right of what was kept, and goes on when nothing can be kept any more', async () => {
  const kept = { zoom: 0, snap: 'bar', tapLatency: 'late', sound: { score: true }, lengths: 'feet', more: 1 }
  const full = vi.fn(() => {
    throw new DOMException('the quota has been exceeded', 'QuotaExceededError')
  })
  vi.stubGlobal('localStorage', { getItem: () => JSON.stringify({ state: kept, version: 1 }), setItem: full })
  const { setSound, stepZoom, usePreferences } = await import('@glowchart/web/document/preferences.ts')
  expect(usePreferences.getState()).toMatchObject({
    zoom: 16,
    snap: 'bar',
    tapLatency: 0,
    sound: { score: true, countIn: 0 },
    lengths: 'feet',
  })
  expect(usePreferences.getState()).not.toHaveProperty('more')
  setSound({ click: true })
  stepZoom(1)
  expect(full).toHaveBeenCalledTimes(2)
  expect(usePreferences.getState()).toMatchObject({ zoom: 32, sound: { click: true } })
})
