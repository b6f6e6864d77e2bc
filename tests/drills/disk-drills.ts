// Drills of the disk: full while a song plays and edits come, and the show file damaged.

import { execFileSync } from 'node:child_process'
import { mkdtempSync, readdirSync, readFileSync, rmSync, statfsSync, writeFileSync } from 'node:fs'
import { tmpdir } from 'node:os'
import { join } from 'node:path'
import { setTimeout as sleep } from 'node:timers/promises'
import { parseShow } from '@glowchart/shared/show/document.ts'
import { openPage, type PageSocket } from '../support/page-socket.ts'
import { processesOf } from '../support/processes.ts'
import type { Drill, Figure } from './drill.ts'
import { lightFigures, play, wireFigures } from './playing.ts'
import { onStage } from './stage.ts'

const MEGABYTE = 1 << 20

/** A small file system of its own; null where this machine does not let us mount one. */
function smallDisk(): { path: string; remove(): void } | null {
  const path = mkdtempSync(join(tmpdir(), 'glowchart-disk-'))
  const folder = (): void => rmSync(path, { recursive: true, force: true })
  try {
    execFileSync('mount', ['-t', 'tmpfs', '-o', 'size=4m', 'glowchart-drill', path], { stdio: 'ignore' })
  } catch {
    folder()
    return null
  }
  return {
    path,
    remove() {
      execFileSync('umount', ['--lazy', path], { stdio: 'ignore' })
      folder()
    },
  }
}

const titled = (data: string, show: string): string => {
  const file = join(data, 'shows', `${show}.json`)
  return parseShow(JSON.parse(readFileSync(file, 'utf8')), file).name
}

const rename = (page: PageSocket, name: string) =>
  page.ask({ type: 'edit', edit: 'renameShow', args: { name } })

const yes = (what: string, is: boolean, source: string): Figure => ({
  what,
  value: Number(is),
  unit: '',
  limit: { exactly: 1 },
  source,
})

export const diskFull: Drill = {
  name: 'disk-full',
  title:
    'The disk fills up while a song plays: edits are refused in words and nothing is half written; with room again they are taken',
  lacks() {
    const disk = smallDisk()
    disk?.remove()
    return disk ? null : 'needs a small file system: run it as root on Linux, where tmpfs may be mounted'
  },
  async run() {
    const disk = smallDisk()!
    try {
      return await onStage(
        async stage => {
          const { page } = stage
          const { id } = page.hello.show
          const zero = await play(stage)
          const before = await rename(page, 'Before it was full')
          const { bavail, bsize } = statfsSync(disk.path)
          const filler = join(disk.path, 'filler')
          // All but a page, so that the next file does not fit.
          writeFileSync(filler, Buffer.alloc(bavail * bsize - 4096))
          const full = await rename(page, 'While it is full')
          const again = await rename(page, 'Once more')
          const onDisk = titled(disk.path, id)
          await sleep(3000)
          rmSync(filler)
          const after = await rename(page, 'With room again')
          await stage.receiver.look()
          const { app, engine } = processesOf(stage.served)
          const says = full.type === 'refused' ? full.problem : null
          return [
            yes('an edit before is taken', before.type === 'done', 'there is room'),
            yes(
              'an edit on the full disk is refused, and says so',
              says?.code === 'edit.notSaved' && /ENOSPC|no space/i.test(says.message),
              'an error says what, where, what to do',
            ),
            yes(
              'and so is the next',
              again.type === 'refused',
              'nothing is acknowledged that is not durable',
            ),
            yes(
              'the file on the disk is whole, and the last one acknowledged',
              onDisk === 'Before it was full',
              'written whole or not at all',
            ),
            yes(
              'an edit with room again is taken',
              after.type === 'done' && titled(disk.path, id) === 'With room again',
              'it goes on by itself',
            ),
            yes('app and engine live', app > 0 && engine > 0, 'a full disk ends nothing'),
            ...wireFigures(stage),
            ...lightFigures(stage, zero),
          ]
        },
        ['--data', disk.path],
      )
    } finally {
      disk.remove()
    }
  },
}

export const fileDamaged: Drill = {
  name: 'file-damaged',
  title:
    'The show file is damaged on the disk and the app starts anew: the last good version opens, the damaged file is kept and named, the song plays on',
  run: () =>
    onStage(async stage => {
      const { page, served } = stage
      const { id } = page.hello.show
      for (const name of ['First edit', 'Second edit', 'Third edit']) await rename(page, name)
      const zero = await play(stage)
      await sleep(500)
      const file = join(served.data, 'shows', `${id}.json`)
      const text = readFileSync(file)
      // Half of it, then rubbish: as a dying disk leaves it.
      const damaged = Buffer.concat([text.subarray(0, text.length >> 1), Buffer.alloc(MEGABYTE >> 4, 0xe5)])
      writeFileSync(file, damaged)
      process.kill(processesOf(served).app, 'SIGKILL')
      const again = await pageAgain(served.url)
      const status = (await (await fetch(`${served.url}/api/status`)).json()) as {
        notices: { code: string; message: string }[]
      }
      const kept = readdirSync(join(served.data, 'damaged'))
      const answer = await rename(again, 'Work goes on')
      again.close()
      await stage.receiver.more(80)
      return [
        yes(
          'the last good version is open',
          again.hello.show.name === 'Second edit',
          'the file was replaced by the third edit; the version before it is the newest good one',
        ),
        yes(
          'the damage is told',
          status.notices.some(({ code }) => code === 'file.damaged'),
          'a damaged file is named',
        ),
        yes(
          'the damaged file is kept, byte for byte',
          kept.length === 1 && readFileSync(join(served.data, 'damaged', kept[0]!)).equals(damaged),
          'a damaged file is kept',
        ),
        yes(
          'edits are taken again',
          answer.type === 'done' && titled(served.data, id) === 'Work goes on',
          'it goes on by itself',
        ),
        ...wireFigures(stage),
        ...lightFigures(stage, zero),
      ]
    }),
}

export async function pageAgain(url: string): Promise<PageSocket> {
  for (;;) {
    const page = await openPage(url, 'drill-page-2').catch(() => null)
    if (page) return page
    await sleep(20)
  }
}
