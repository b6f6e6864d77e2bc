// The log on disk: one file a night, whole lines, old nights gone, a full night closed, a disk that comes back.

import { mkdirSync, readdirSync, readFileSync, rmSync, writeFileSync } from 'node:fs'
import { join } from 'node:path'
import { eveningsIn, nightFile, nightsFolder, openNightLog } from '@glowchart/server/night/night-log.ts'
import { type NightEvent, parseNight } from '@glowchart/shared/night/event.ts'
import { afterEach, beforeEach, expect, it } from 'vitest'
import { tempFolder } from '../support/processes.ts'

let folder: ReturnType<typeof tempFolder>
beforeEach(() => {
  folder = tempFolder()
})
afterEach(() => folder.remove())

const event = (at: string, says = 'Something.'): NightEvent => ({ at, kind: 'song', says })
const utc = { offsetAt: () => 0 }
const night = (evening: string) => parseNight(readFileSync(nightFile(folder.path, evening), 'utf8'))

it('puts what comes before five in the morning into the evening before', async () => {
  const log = openNightLog(folder.path, utc)
  const all = ['2031-05-04T21:00:00.000Z', '2031-05-05T04:59:00.000Z', '2031-05-05T20:00:00.000Z'].map(at =>
    event(at),
  )
  for (const one of all) log.add(one)
  await log.close()
  expect(night('2031-05-04')).toEqual({ events: all.slice(0, 2), damaged: 0 })
  expect(night('2031-05-05').events).toEqual(all.slice(2))
})

it('goes on in a file that a power cut left with half a line', async () => {
  mkdirSync(nightsFolder(folder.path))
  writeFileSync(
    nightFile(folder.path, '2031-05-04'),
    `${JSON.stringify(event('2031-05-04T20:00:00Z'))}\n{"at":"2031-0`,
  )
  const log = openNightLog(folder.path, utc)
  log.add(event('2031-05-04T22:00:00Z', 'After the cut.'))
  await log.close()
  const { events, damaged } = night('2031-05-04')
  expect([events.map(one => one.says), damaged]).toEqual([['Something.', 'After the cut.'], 1])
})

it('lets old nights go, and closes one that has grown too large with a word', async () => {
  const log = openNightLog(folder.path, { ...utc, nights: 3, mostBytes: 2000 })
  for (let day = 1; day <= 6; day++) log.add(event(`2031-05-0${day}T20:00:00Z`))
  await log.close()
  expect(await eveningsIn(folder.path)).toEqual(['2031-05-06', '2031-05-05', '2031-05-04'])
  const again = openNightLog(folder.path, { ...utc, mostBytes: 2000 })
  for (let i = 0; i < 30; i++) {
    again.add(event('2031-05-06T21:00:00Z', 'x'.repeat(200)))
    await new Promise(resolve => setImmediate(resolve))
  }
  await again.close()
  expect(readFileSync(nightFile(folder.path, '2031-05-06')).length).toBeLessThan(2300)
  expect(night('2031-05-06').events.at(-1)).toMatchObject({ kind: 'log', fault: true })
})

it('is not closed by somebody who gives himself its last word for a name', async () => {
  const log = openNightLog(folder.path, utc)
  log.add(event('2031-05-04T20:00:00Z', 'The log of this night is full has joined and looks on.'))
  await log.close()
  log.add(event('2031-05-04T20:00:01Z', 'After it.'))
  await log.close()
  expect(night('2031-05-04').events.map(one => one.says)).toContain('After it.')
})

it('waits for a disk that takes nothing, and loses nothing when it comes back', async () => {
  // A file where the folder should be: nobody can write there, a superuser neither.
  const blocked = nightsFolder(folder.path)
  writeFileSync(blocked, '')
  const log = openNightLog(folder.path, utc)
  const all = [event('2031-05-04T20:00:00Z', 'One.'), event('2031-05-04T20:00:01Z', 'Two.')]
  log.add(all[0]!)
  await log.close()
  expect(readdirSync(folder.path)).toEqual(['nights'])
  rmSync(blocked)
  log.add(all[1]!)
  await log.close()
  expect(night('2031-05-04').events).toEqual(all)
  expect(readdirSync(join(folder.path, 'nights'))).toEqual(['2031-05-04.jsonl'])
})
