// Drills of the disk: full while a song plays and edits come, and the show file damaged.

import { execFileSync } from 'node:child_process'
import { mkdtempSync, readdirSync, readFileSync, rmSync, statfsSync, writeFileSync } from 'node:fs'
import { tmpdir } from 'node:os'
import { join } from 'node:path'
import { setTimeout as sleep } from 'node:timers/promises'
import { monotonicMs } from '@glowchart/server/engine/now.ts'
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

/** Edits are durable in the journal; the file follows when none has come for a second. Resolves when it has. */
export async function followed(data: string, show: string, name: string): Promise<void> {
  const limit = monotonicMs() + 20_000
  while (titled(data, show) !== name) {
    if (monotonicMs() > limit) throw new Error(`the file never followed: ${titled(data, show)}`)
    await sleep(50)
  }
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
          await followed(disk.path, id, 'Before it was full')
          const { bavail, bsize } = statfsSync(disk.path)
          const filler = join(disk.path, 'filler')
          writeFileSync(filler, Buffer.alloc(bavail * bsize))
          // A line may fit into what is left of the journal's last block: until none does.
          let taken = 'Before it was full'
          let full = await rename(page, 'While it is full 1')
          for (let i = 2; full.type === 'done' && i < 100; i++) {
            taken = `While it is full ${i - 1}`
            full = await rename(page, `While it is full ${i}`)
          }
          const whole = titled(disk.path, id)
          // What the refused edit gave back is filled too: the app finds no room for as much as its lock.
          const rest = statfsSync(disk.path)
          writeFileSync(join(disk.path, 'filler-2'), Buffer.alloc(rest.bavail * rest.bsize))
          const { app } = processesOf(stage.served)
          process.kill(app, 'SIGKILL')
          await sleep(3000)
          const dark = stage.told.statuses.at(-1)!.at < monotonicMs() - 1000
          rmSync(filler)
          rmSync(join(disk.path, 'filler-2'))
          const again = await pageAgain(stage.served.url)
          const after = await rename(again, 'With room again')
          await followed(disk.path, id, 'With room again')
          again.close()
          await stage.receiver.look()
          const says = full.type === 'refused' ? full.problem : null
          return [
            yes('an edit before is taken', before.type === 'done', 'there is room'),
            yes(
              'an edit on the full disk is refused, and says so',
              says?.code === 'edit.notSaved' && /ENOSPC|no space/i.test(says.message),
              'an error says what, where, what to do',
            ),
            yes(
              'the file on the disk is whole',
              whole === 'Before it was full',
              'written whole or not at all',
            ),
            yes('the app killed on the full disk puts no light out', !dark, 'lights wait for no disk'),
            yes(
              'with room again the app is back with the last edit acknowledged',
              again.hello.show.name === taken,
              'nothing is acknowledged that is not durable',
            ),
            yes('an edit with room again is taken', after.type === 'done', 'it goes on by itself'),
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
      for (const name of ['First edit', 'Second edit', 'Third edit']) {
        await rename(page, name)
        await followed(served.data, id, name)
      }
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
        yes('edits are taken again', answer.type === 'done', 'it goes on by itself'),
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
