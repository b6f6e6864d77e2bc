// A page that cannot sound plays all the same.

import { wakeSound } from '@glowchart/web/audio/sound.ts'
import { expect, it, vi } from 'vitest'

it('does not keep a song from being played where no sound can be had', async () => {
  let tried = 0
  vi.stubGlobal(
    'AudioContext',
    class {
      constructor() {
        tried += 1
        throw new DOMException('no output', 'NotSupportedError')
      }
    },
  )
  await expect(wakeSound()).resolves.toBeUndefined()
  await expect(wakeSound()).resolves.toBeUndefined()
  expect(tried).toBe(2)
})
