// Pictures of what browser tests have on their pages, for eyes: taken only when GLOWCHART_PICTURES is set, as each takes
// half a second and proves nothing.

import { fileURLToPath } from 'node:url'
import type { Page } from 'playwright-core'

const folder = fileURLToPath(new URL('../out', import.meta.url))

/** Writes what a page shows to `tests/out/NAME.png`, which git ignores. */
export async function picture(page: Page, name: string): Promise<void> {
  if (process.env.GLOWCHART_PICTURES) await page.screenshot({ path: `${folder}/${name}.png` })
}
