// What a run of tests has once for all its files: the product as it is shipped, and a browser.

import { serveBrowser } from './browser.ts'
import { setup as build } from './build.ts'

export async function setup(): Promise<() => Promise<void>> {
  // Where there is none, the tests that need one say so.
  const [browser] = await Promise.all([serveBrowser().catch(() => null), build()])
  return async () => browser?.close()
}
