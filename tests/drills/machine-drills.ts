// Drills of the machine and its wire: the time of day is set, and the node goes away and comes back.

import { mkdtempSync, readdirSync, readFileSync, rmSync, writeFileSync } from 'node:fs'
import { tmpdir } from 'node:os'
import { join } from 'node:path'
import { setTimeout as sleep } from 'node:timers/promises'
import { fileURLToPath } from 'node:url'
import { monotonicMs } from '@glowchart/server/engine/now.ts'
import type { AppMessage } from '@glowchart/shared/messages.ts'
import { processesOf } from '../support/processes.ts'
import { followed } from './disk-drills.ts'
import type { Drill, Figure } from './drill.ts'
import { burstFigure, lightFigures, play, wireFigures } from './playing.ts'
import { onStage, RATE, type Stage } from './stage.ts'

const HOUR = 3_600_000

export const timeChanged: Drill = {
  name: 'time-changed',
  title:
    'The time of day is set three hours on and a day back while a song plays: nothing but the dates of files changes',
  async run() {
    const folder = mkdtempSync(join(tmpdir(), 'glowchart-drill-'))
    const shift = join(folder, 'shift')
    const env = {
      NODE_OPTIONS: `${process.env.NODE_OPTIONS ?? ''} --require ${fileURLToPath(new URL('./clock-shift.cjs', import.meta.url))}`,
      GLOWCHART_SHIFT: shift,
    }
    try {
      return await onStage(stage => setTimes(stage, shift), [], env)
    } finally {
      rmSync(folder, { recursive: true, force: true })
    }
  },
}

async function setTimes(stage: Stage, shift: string): Promise<Figure[]> {
  const { page, served } = stage
  const { id } = page.hello.show
  const before = processesOf(served)
  const zero = await play(stage)
  let refused = 0
  for (const [i, ms] of [0, 3 * HOUR, -24 * HOUR].entries()) {
    writeFileSync(shift, String(ms))
    await sleep(700)
    const answer = await page.ask({ type: 'edit', edit: 'renameShow', args: { name: `Band ${i}` } })
    if (answer.type === 'refused') refused++
    await followed(served.data, id, `Band ${i}`)
  }
  await stage.receiver.look()
  const after = processesOf(served)
  // What the edits replaced, named by the time of day; one that is set back names nothing before what is there.
  const versions = readdirSync(join(served.data, 'versions', 'shows', id)).sort()
  const hours = versions.map(name => Date.parse(`${name.slice(0, 13)}:00:00Z`) / HOUR)
  const texts = versions.map(name => readFileSync(join(served.data, 'versions', 'shows', id, name), 'utf8'))
  const order = texts.map(text => (JSON.parse(text) as { name: string }).name)
  return [
    {
      what: 'hours between the oldest and the newest version file',
      value: Math.max(...hours) - Math.min(...hours),
      unit: 'h',
      limit: { atLeast: 2 },
      source: 'the time of day was really another one in the process',
    },
    {
      what: 'version files in the order of the edits',
      value: Number(order.slice(1).join() === 'Band 0,Band 1'),
      unit: '',
      limit: { exactly: 1 },
      source: 'the newest is the last one replaced, whatever the clock says',
    },
    {
      what: 'edits refused',
      value: refused,
      unit: '',
      limit: { exactly: 0 },
      source: 'nothing was wrong with them',
    },
    {
      what: 'processes started anew',
      value: Number(before.app !== after.app) + Number(before.engine !== after.engine),
      unit: '',
      limit: { exactly: 0 },
      source: 'watching counts, it does not time',
    },
    ...wireFigures(stage),
    ...lightFigures(stage, zero),
  ]
}

type Network = Extract<AppMessage, { type: 'network' }>

export const nodeAway: Drill = {
  name: 'node-away',
  title:
    'The node loses power for 10 s and comes back: it is said, nothing else stops, and its light is there at once',
  run: ({ short }) =>
    onStage(async stage => {
      const { page, receiver } = stage
      const address = { address: '127.0.0.1', port: receiver.port }
      // A page that shows the output asks over and over.
      const ask = (): void =>
        void page.ask({ type: 'discover', discover: { everywhere: false, hosts: [address] } })
      const asking = setInterval(ask, 2750)
      const node = () =>
        page.messages
          .findLast((message): message is Network => message.type === 'network')
          ?.network.nodes.find(one => one.port === receiver.port)
      const until = async (fits: () => boolean): Promise<number> => {
        const limit = monotonicMs() + 20_000
        while (!fits()) {
          if (monotonicMs() > limit) throw new Error(`the node was never told: ${JSON.stringify(node())}`)
          await sleep(20)
        }
        return monotonicMs()
      }
      try {
        ask()
        const zero = await play(stage)
        await until(() => node()?.silent === false)
        await receiver.look()
        const there = receiver.packets.length
        const off = monotonicMs()
        await receiver.turn('off')
        const told = (await until(() => node()?.silent === true)) - off
        await sleep(Math.max(0, off + (short ? 0 : 10_000) - monotonicMs()))
        const { pid } = await stage.status(() => true)
        const on = monotonicMs()
        await receiver.turn('on')
        await receiver.more(2 * RATE)
        const back = (await until(() => node()?.silent === false)) - on
        const after = await stage.status(() => true)
        const packets = receiver.packets.slice(there).filter(({ at }) => at >= on)
        return [
          {
            what: 'silent node told after',
            value: told,
            unit: 'ms',
            limit: { atMost: 7000 },
            source: 'Art-Net 4: polled every 2.5 to 3 s, gone when silent for 3 s; and a second',
          },
          {
            what: 'light at the node again after',
            value: packets[0]!.at - on,
            unit: 'ms',
            limit: { atMost: 100 + receiver.stall },
            source: 'our own: it never stopped being sent',
          },
          {
            what: 'node told as back after',
            value: back,
            unit: 'ms',
            limit: { atMost: 4000 },
            source: 'the next poll and its answer',
          },
          burstFigure(stage, packets),
          {
            what: 'engines started anew',
            value: Number(after.pid !== pid),
            unit: '',
            limit: { exactly: 0 },
            source: 'a send error is counted, not thrown',
          },
          { what: 'frames left out meanwhile', value: after.frames.skipped, unit: '', limit: 'tells' },
          ...lightFigures(stage, zero, on),
        ]
      } finally {
        clearInterval(asking)
      }
    }),
}
