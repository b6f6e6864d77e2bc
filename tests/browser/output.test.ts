// The output in a real browser, with an Art-Net node on loopback: found, given a universe, tested, silent, and the next day.

import { once } from 'node:events'
import { readFileSync, rmSync } from 'node:fs'
import { createRequire } from 'node:module'
import type { AxeResults } from 'axe-core'
import type { Browser, Page } from 'playwright-core'
import { afterAll, beforeAll, describe, expect, it } from 'vitest'
import { openBrowser } from '../support/browser.ts'
import { type FakeNode, openFakeNode } from '../support/fake-node-socket.ts'
import { openPage } from '../support/page-socket.ts'
import { type Served, serveDemo } from '../support/processes.ts'

const axe = readFileSync(createRequire(import.meta.url).resolve('axe-core/axe.min.js'), 'utf8')

let node: FakeNode
let served: Served
let browser: Browser
let page: Page
beforeAll(async () => {
  node = await openFakeNode('Box node', [1, 2])
  ;[served, browser] = await Promise.all([serve(), openBrowser()])
  page = await opened(1440, 900)
}, 60_000)
afterAll(async () => {
  await browser?.close()
  await served?.close()
  await node?.close()
})

const serve = (words: string[] = []) => serveDemo(words, { GLOWCHART_ASK: `127.0.0.1:${node.port}` })

async function opened(width: number, height: number): Promise<Page> {
  const fresh = await browser.newPage({ viewport: { width, height }, reducedMotion: 'reduce' })
  fresh.setDefaultTimeout(30_000)
  await fresh.goto(`${served.url}/#outputs`)
  await fresh.getByRole('list', { name: 'Nodes' }).getByText('Box node of the test').waitFor()
  return fresh
}

/** The Port-Addresses of the next frames that arrive. */
async function arriving(): Promise<number[]> {
  node.frames.length = 0
  await expect.poll(() => node.frames.length, { timeout: 20_000 }).toBeGreaterThan(5)
  return [...new Set(node.frames.map(frame => frame.portAddress))]
}

async function kept(): Promise<unknown> {
  const socket = await openPage(served.url, 'test-reader')
  socket.close()
  return socket.hello.show.output.routes
}

const way = (portAddress: number) => ({
  universe: 1,
  to: { protocol: 'artnet', host: '127.0.0.1', port: node.port, portAddress, mode: 'every' },
})

describe('the output', { timeout: 90_000 }, () => {
  it('lists a node that answers, and sends a universe to a port chosen with the keyboard alone', async () => {
    const nodes = page.getByRole('list', { name: 'Nodes' })
    await expect.poll(() => nodes.textContent()).toMatch(/port 0:0:1 \(1\), port 0:0:2 \(2\)/)
    await expect.poll(() => nodes.textContent()).toMatch(/seen \d s ago/)
    await page.getByText('Nothing leaves this laptop').waitFor()
    expect(node.frames).toHaveLength(0)
    await page.getByRole('combobox', { name: 'Goes to' }).focus()
    await page.keyboard.press('ArrowDown')
    expect(await arriving()).toEqual([1])
    await expect.poll(kept).toEqual([way(1)])
  })

  it('moves it to another port by dragging', async () => {
    const from = (await page.locator('.universe-handle').boundingBox())!
    const to = (await page.locator('.board .number').filter({ hasText: '0:0:2' }).boundingBox())!
    await page.mouse.move(from.x + 20, from.y + 15)
    await page.mouse.down()
    await page.mouse.move(to.x + 10, to.y + 15, { steps: 4 })
    await page.mouse.up()
    await expect.poll(kept).toEqual([way(2)])
    expect(await arriving()).toEqual([2])
    await page.keyboard.press('Tab')
  })

  it('sends at the rate that is typed', async () => {
    const rate = page.getByRole('spinbutton', { name: 'Frames a second' })
    await rate.fill('25')
    await rate.press('Enter')
    await page.getByText('Sending 1 universe, 25 frames/s').waitFor()
  })

  it('tests a universe: it fades gently, and is dark once the test is stopped', async () => {
    await page.getByRole('button', { name: 'Test universe 1' }).focus()
    await page.keyboard.press('Enter')
    await page.getByText('16 fixtures on universe 1 should fade slowly').waitFor()
    node.frames.length = 0
    const seen = (slot: number) => node.frames.map(frame => frame.slots[slot - 1]!)
    await expect.poll(() => Math.max(...seen(512)), { timeout: 10_000 }).toBeGreaterThan(60)
    expect(Math.max(...node.frames.flatMap(frame => [...frame.slots]))).toBeLessThanOrEqual(77)
    await page.getByRole('button', { name: /^Stop the test/ }).click()
    await page.getByText('stay dark until the transport').waitFor()
    node.frames.length = 0
    await expect.poll(() => node.frames.length).toBeGreaterThan(3)
    expect(Math.max(...node.frames.at(-1)!.slots)).toBe(0)
  })

  it('says in the panel and in the transport that the node is silent, and that it still sends', async () => {
    node.on = false
    await page.getByText(/^Node silent \d+ s, still sending$/).waitFor()
    await page.goto(`${served.url}/#chart`)
    const cell = page.getByRole('button', { name: /Node silent \d+ s, still sending/ })
    await cell.waitFor()
    node.on = true
    await page.getByRole('button', { name: 'Sending, 25 frames/s' }).waitFor()
  })

  it('sends nothing after a fresh start until it is told to, and then where it sent last', async () => {
    const { data, child } = served
    child.kill('SIGTERM')
    await once(child, 'close')
    node.frames.length = 0
    const again = await serve(['--data', data])
    served = {
      ...again,
      async close() {
        await again.close()
        rmSync(data, { recursive: true, force: true })
      },
    }
    await page.close()
    page = await opened(1440, 900)
    await page.getByText('Universe 1 to Box node, port 0:0:2 (2)').waitFor()
    const polls = node.polls
    await expect.poll(() => node.polls, { timeout: 15_000 }).toBeGreaterThan(polls)
    expect(node.frames).toHaveLength(0)
    await page.getByRole('button', { name: 'Send there again' }).click()
    expect(await arriving()).toEqual([2])
    await page.getByRole('button', { name: 'Turn the output off' }).click()
    await page.getByRole('button', { name: 'Send there again' }).waitFor()
  })

  it('refuses an address that is none, and asks one that is', async () => {
    const field = page.getByRole('textbox', { name: 'Address of the node' })
    await field.fill('127.0.0.300')
    await field.press('Enter')
    await page.getByText('An address has four numbers').waitFor()
    await field.fill('127.0.0.9:9')
    await field.press('Enter')
    await page.getByRole('list', { name: 'Nodes' }).getByText('does not answer').waitFor()
  })

  it('gives axe nothing to find, wide and on a phone', async () => {
    const phone = await opened(390, 844)
    for (const one of [page, phone]) {
      await one.evaluate(axe)
      const { violations, passes } = (await one.evaluate(
        'axe.run(document, { runOnly: ["wcag2a", "wcag2aa", "wcag21a", "wcag21aa", "wcag22aa", "best-practice"], resultTypes: ["violations"] })',
      )) as AxeResults
      expect(passes.length).toBeGreaterThan(10)
      expect(
        violations.map(({ id, nodes }) => `${id}: ${nodes.map(n => n.target.join(' ')).join(', ')}`),
      ).toEqual([])
      expect(await one.evaluate(() => document.documentElement.scrollWidth <= innerWidth)).toBe(true)
    }
    await phone.close()
  })
})
