// Takes the pictures of the README and the guide from the demo show, on the real page: npm run pictures, after npm run build

import { mkdirSync } from 'node:fs'
import { fileURLToPath } from 'node:url'
import type { Page } from 'playwright-core'
import { openBrowser } from './browser.ts'
import { openPage } from './page-socket.ts'
import { serveDemo } from './processes.ts'

const out = fileURLToPath(new URL('../../docs/pictures', import.meta.url))
const LAPTOP = { width: 1440, height: 900 }
const PHONE = { width: 390, height: 844 }

mkdirSync(out, { recursive: true })
const served = await serveDemo()
const browser = await openBrowser()
const engine = await openPage(served.url, 'pictures')
try {
  const laptop = await browser.newPage({ viewport: LAPTOP })
  await laptop.goto(served.url)
  await laptop.getByRole('button', { name: 'Play', exact: true }).waitFor()
  await settled(laptop)
  // Into the chorus by its keys, where most of the parts play.
  await laptop.locator('.chart .page').click({ position: { x: 700, y: 120 } })
  await laptop.keyboard.press('Escape')
  for (let section = 0; section < 2; section++) await laptop.keyboard.press(']')
  await laptop.keyboard.press('Space')
  await engine.status(status => status.playing)
  await laptop.waitForTimeout(4000)
  await picture(laptop, 'chart')
  await laptop.goto(`${served.url}/#run`)
  await laptop.getByRole('timer').waitFor()
  await laptop.waitForTimeout(2500)
  await picture(laptop, 'run')
  await laptop.goto(`${served.url}/#rig`)
  await settled(laptop)
  await picture(laptop, 'rig')
  const phone = await browser.newPage({ viewport: PHONE, hasTouch: true, isMobile: true })
  await phone.goto(`${served.url}/#check`)
  await phone.getByRole('button', { name: 'Start', exact: true }).last().click()
  await phone.getByRole('button', { name: 'Stop the song' }).click()
  await engine.status(status => !status.playing)
  await settled(phone)
  await picture(phone, 'check')
} finally {
  engine.close()
  await browser.close()
  await served.close()
}

/** Light rolls are drawn from the playhead outwards; a picture waits for the last. */
async function settled(page: Page): Promise<void> {
  await page.waitForLoadState('networkidle')
  await page.waitForTimeout(2500)
}

async function picture(page: Page, name: string): Promise<void> {
  await page.screenshot({ path: `${out}/${name}.png` })
  process.stdout.write(`docs/pictures/${name}.png\n`)
}
