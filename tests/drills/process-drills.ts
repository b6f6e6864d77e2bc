// Drills of the processes: the laptop asleep, the app, the engine and the supervisor killed while a song plays.

import { setTimeout as sleep } from 'node:timers/promises'
import { monotonicMs } from '@glowchart/server/engine/now.ts'
import { isOutOfOrder } from '@glowchart/server/output/e131.ts'
import { openPage } from '../support/page-socket.ts'
import { processesOf, serveDemo } from '../support/processes.ts'
import { pageAgain } from './disk-drills.ts'
import type { Drill } from './drill.ts'
import { burstFigure, lightFigures, play, wireFigures } from './playing.ts'
import { longestGap } from './receiver.ts'
import { onStage, openStage, PERIOD, RATE, treeOf } from './stage.ts'

/** What was sent before the machine slept may reach a receiver that had to wait so much later, ms. */
const LATE = 500

export const asleep: Drill = {
  name: 'asleep',
  title:
    'The laptop sleeps for 30 s (every process stopped, then continued): no burst of old frames, the song where it would be',
  run: ({ short }) =>
    onStage(async stage => {
      const zero = await play(stage)
      const before = await stage.status(one => one.playing)
      await sleep(1000)
      const tree = treeOf(stage.served)
      for (const pid of tree) process.kill(pid, 'SIGSTOP')
      const slept = monotonicMs()
      await sleep(short ? 3000 : 30_000)
      const woke = monotonicMs()
      for (const pid of tree.toReversed()) process.kill(pid, 'SIGCONT')
      await stage.receiver.more(2 * 2 * RATE)
      const after = await stage.status(one => one.playing && one.at > woke + 1500)
      const { packets } = stage.receiver
      const awake = packets.filter(({ at }) => at > woke)
      return [
        { what: 'asleep for', value: (woke - slept) / 1000, unit: 's', limit: 'tells' },
        {
          what: 'packets while asleep',
          value: packets.filter(({ at }) => at > slept + LATE && at < woke).length,
          unit: '',
          limit: { exactly: 0 },
          source: 'it slept',
        },
        {
          what: 'light again after waking',
          value: awake[0]!.at - woke,
          unit: 'ms',
          limit: { atMost: 1000 },
          source: 'our own: light within a second',
        },
        burstFigure(stage, awake),
        {
          what: 'engines started anew',
          value: Number(after.pid !== before.pid),
          unit: '',
          limit: { exactly: 0 },
          source: 'it only slept',
        },
        ...lightFigures(stage, zero, woke),
      ]
    }),
}

export const appKilled: Drill = {
  name: 'app-killed',
  title: 'The app is killed: not a frame is missing, and a page finds everything again',
  run: () =>
    onStage(async stage => {
      const zero = await play(stage)
      await sleep(500)
      const killed = monotonicMs()
      process.kill(processesOf(stage.served).app, 'SIGKILL')
      const page = await pageAgain(stage.served.url)
      const at = monotonicMs()
      const found = page.hello.show.name === stage.page.hello.show.name
      await page.status(status => status.playing)
      page.close()
      await stage.receiver.more(2 * RATE)
      return [
        ...wireFigures(stage),
        {
          what: 'pages answered again after',
          value: at - killed,
          unit: 'ms',
          limit: { atMost: 10_000 },
          source: 'our own',
        },
        {
          what: 'the same show is open',
          value: Number(found),
          unit: '',
          limit: { exactly: 1 },
          source: 'acknowledged edits are durable',
        },
        ...lightFigures(stage, zero),
      ]
    }),
}

export const engineKilled: Drill = {
  name: 'engine-killed',
  title:
    'The engine is killed in mid-song: light again within a second, at the place where it would have been',
  run: () =>
    onStage(async stage => {
      const zero = await play(stage)
      // The spare engine is begun three seconds after the first, and then has to load, beside whatever else is at work.
      await sleep(8000)
      const { pid } = await stage.status(one => one.playing)
      const before = await stage.receiver.look().then(packets => packets.length)
      process.kill(pid, 'SIGKILL')
      const killed = monotonicMs()
      await stage.status(one => one.pid !== pid && one.playing)
      await stage.receiver.more(2 * 2 * RATE)
      const { packets } = stage.receiver
      const first = packets.findIndex((packet, i) => i >= before && packet.at > killed + PERIOD)
      const restarted = packets.slice(first)
      const dropped = ['sacn' as const].map(protocol => {
        const last = packets.slice(0, first).findLast(packet => packet.protocol === protocol)!
        return isOutOfOrder(restarted.find(packet => packet.protocol === protocol)!.sequence, last.sequence)
      })
      return [
        {
          what: 'gap at the receiver',
          value: longestGap(packets),
          unit: 'ms',
          limit: { atMost: 1000 },
          source: 'our own: back within a second; sources are lost after 2.5 s (E1.31-2018 6.7.1)',
        },
        {
          what: 'frames lost',
          value: Math.round(longestGap(packets) / PERIOD) - 1,
          unit: '',
          limit: { atMost: RATE },
          source: 'the same second',
        },
        {
          what: 'first packet dropped as old',
          value: Number(dropped[0]),
          unit: '',
          limit: { exactly: 0 },
          source: 'E1.31-2018 6.7.2',
        },
        burstFigure(stage, restarted),
        ...lightFigures(stage, zero),
      ]
    }),
}

export const supervisorKilled: Drill = {
  name: 'supervisor-killed',
  title: 'The supervisor is killed: the lights go on, and the next serve takes the engine over as it plays',
  async run() {
    const stage = await openStage()
    let next: Awaited<ReturnType<typeof serveDemo>> | null = null
    try {
      const zero = await play(stage)
      await sleep(500)
      const { pid } = await stage.status(one => one.playing)
      process.kill(stage.served.child.pid!, 'SIGKILL')
      await stage.receiver.more(2 * RATE)
      next = await serveDemo(['--data', stage.served.data])
      const page = await openPage(next.url, 'drill-page-2')
      const status = await page.status(one => one.playing)
      page.close()
      await stage.receiver.more(2 * RATE)
      return [
        ...wireFigures(stage),
        {
          what: 'engines started anew',
          value: Number(status.pid !== pid),
          unit: '',
          limit: { exactly: 0 },
          source: 'the death of the supervisor puts no light out',
        },
        ...lightFigures(stage, zero),
      ]
    } finally {
      await next?.close()
      await stage.close()
    }
  },
}
