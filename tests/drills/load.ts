// A load that changes: calm, pages with previews, edits to the draft, busy processors, all at once; a phase after the other.

import { type ChildProcess, spawn } from 'node:child_process'
import { availableParallelism } from 'node:os'
import { setTimeout as sleep } from 'node:timers/promises'
import type { Browser } from 'playwright-core'
import { openBrowser } from '../support/browser.ts'
import { openPage } from '../support/page-socket.ts'

const phases = ['calm', 'pages', 'edits', 'burners', 'all'] as const
type Phase = (typeof phases)[number]

const PAGES = 3
/** Between two edits of one hand: ten a second, faster than anybody types. */
const HAND = 100

export interface Load {
  /** Edits that were acknowledged, and whole rounds through the phases. */
  readonly done: { edits: number; refused: number; phases: number }
  end(): Promise<void>
}

/** Begins with calm; each phase lasts `seconds`. */
export function changingLoad(url: string, seconds: number): Load {
  const done = { edits: 0, refused: 0, phases: 0 }
  let ending = false
  let wake = (): void => {}
  const ended = new Promise<void>(resolve => {
    wake = resolve
  })
  const run = async (): Promise<void> => {
    while (!ending) {
      const phase = phases[done.phases++ % phases.length]!
      const stops = await begin(phase)
      await Promise.race([sleep(seconds * 1000), ended])
      for (const stop of stops) await stop()
    }
  }

  async function begin(phase: Phase): Promise<(() => Promise<void>)[]> {
    const has = (one: Phase): boolean => phase === one || phase === 'all'
    return [
      ...(has('pages') ? [await browser(url), await watchers(url)] : []),
      ...(has('edits') ? [await hands(url, done)] : []),
      ...(has('burners') ? [burners()] : []),
    ]
  }

  const running = run()
  return {
    done,
    async end() {
      ending = true
      wake()
      await running
    },
  }
}

/** A real browser that shows chart, light roll and stage. */
async function browser(url: string): Promise<() => Promise<void>> {
  let opened: Browser | null = null
  try {
    opened = await openBrowser()
    const page = await opened.newPage()
    await page.goto(url, { timeout: 60_000 })
  } catch (error) {
    // The load is less real then, and says so; the drill is not about the browser.
    process.stderr.write(`set: no browser in this phase (${(error as Error).message.split('\n')[0]})\n`)
  }
  return async () => opened?.close()
}

/** Pages that take every frame. */
async function watchers(url: string): Promise<() => Promise<void>> {
  const pages = await Promise.all(
    Array.from({ length: PAGES }, (_, i) => openPage(url, `drill-watcher-${i}`)),
  )
  for (const page of pages) page.send({ type: 'frames', on: true })
  return async () => {
    for (const page of pages) page.close()
  }
}

/** A hand that renames band and songs: each edit is written to the disk and compiled anew, and changes no light. */
async function hands(url: string, done: Load['done']): Promise<() => Promise<void>> {
  const page = await openPage(url, 'drill-hands-1')
  let on = true
  const { songOrder } = page.hello.show
  const work = async (): Promise<void> => {
    for (let i = 0; on; i++) {
      const song = songOrder[i % songOrder.length]!
      const answer = await page.ask(
        i % 2 === 0
          ? { type: 'edit', edit: 'renameShow', args: { name: `Department of Oh ${i % 1000}` } }
          : { type: 'edit', edit: 'renameSong', args: { song, title: `Song ${i % 1000}` } },
      )
      if (answer.type === 'done') done.edits++
      else done.refused++
      await sleep(HAND)
    }
  }
  const working = work()
  return async () => {
    on = false
    await working
    page.close()
  }
}

/** One more busy process than there are processors. */
function burners(): () => Promise<void> {
  const code = 'const a = []; for (;;) { a.push({}); if (a.length > 1e6) a.length = 0 }'
  const children: ChildProcess[] = Array.from({ length: availableParallelism() + 1 }, () =>
    spawn(process.execPath, ['-e', code], { stdio: 'ignore' }),
  )
  return async () => {
    for (const child of children) child.kill('SIGKILL')
  }
}
