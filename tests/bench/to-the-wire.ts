// Bench: how long after a hand, a pedal or an edit the light is another one at the node; and until an edit is durable.

import { createSocket } from 'node:dgram'
import { closeSync, fsyncSync, openSync, writeSync } from 'node:fs'
import { join } from 'node:path'
import { setTimeout as pause } from 'node:timers/promises'
import { pipeLink } from '@glowchart/server/engine/link.ts'
import { monotonicMs } from '@glowchart/server/engine/now.ts'
import { engineAddress } from '@glowchart/server/engine/pipe.ts'
import { lightSchema } from '@glowchart/shared/light/schema.ts'
import { openPage } from '../support/page-socket.ts'
import { serveDemo } from '../support/processes.ts'
import { random } from '../support/random.ts'
import { figure, ratio, table, within } from './figures.ts'
import { nodeAtHand } from './node-at-hand.ts'

const TIMES = 40
const PERIOD = 25
const LOOK = 'bench-look'
/** Octets of a full E1.31 data packet. */
const PACKET = 638
/** The note of the four-button pedal that blacks out while it is held, on channel 16. */
const BLACKOUT = 63
const NOTE_ON = 0x9f

const next = random(4711)
/** A pause that puts what follows anywhere in a frame's period, and that is longer than a switch bounces. */
const breath = (): Promise<void> => pause(70 + next() * 2 * PERIOD)

const node = await nodeAtHand()
const served = await serveDemo()
const page = await openPage(served.url, 'bench-hands')
const link = pipeLink(engineAddress(served.data))
try {
  const done = async (question: Parameters<typeof page.ask>[0]): Promise<void> => {
    const answer = await page.ask(question)
    if (answer.type === 'refused') throw new Error(answer.problem.message)
  }
  const edit = (name: string, args: unknown) => done({ type: 'edit', edit: name, args })
  const { show } = page.hello
  const [part] = show.partOrder
  const light = (level: number) =>
    lightSchema.parse({
      level,
      colours: { along: 'none', colour: { hex: '#ffd080' } },
      motion: { kind: 'sustain', rate: { ticks: 3840 }, direction: 'forward' },
    })
  await edit('addLook', { look: LOOK, name: 'Bench', parts: { [part!]: light(0.5) } })
  await done({ type: 'output', output: node.output })
  await done({ type: 'transport', transport: { do: 'look', look: LOOK } })
  await page.status(({ look }) => look === LOOK)
  await pause(500)

  /** Ms from each of many acts until the light changes at the node; and until the act is answered, where it is. */
  async function times(act: (n: number) => unknown): Promise<{ lit: number[]; answered: number[] }> {
    const lit: number[] = []
    const answered: number[] = []
    for (let n = 0; n < TIMES; n++) {
      await breath()
      const change = node.change()
      const began = performance.now()
      await act(n)
      answered.push(performance.now() - began)
      lit.push((await change) - began)
    }
    return { lit, answered }
  }

  const socket = createSocket('udp4')
  const packet = new Uint8Array(PACKET)
  const bare: number[] = []
  // The product sends meanwhile: as between two frames, whose levels stand still.
  const other = await nodeAtHand()
  for (let n = 0; n < TIMES; n++) {
    packet.fill(n % 2, PACKET - 512)
    const change = other.change()
    const began = performance.now()
    socket.send(packet, other.port, '127.0.0.1')
    bare.push((await change) - began)
    await breath()
  }
  socket.close()
  other.close()

  const pedal = await times(n => {
    const bytes = [NOTE_ON, BLACKOUT, n % 2 === 0 ? 100 : 0]
    link.send({ type: 'midi', midi: { port: 'bench', at: monotonicMs(), bytes } })
  })
  const press = await times(n => done({ type: 'live', live: { blackout: n % 2 === 0 } }))
  const edits = await times(n =>
    edit('setLookPart', { look: LOOK, part, light: light(n % 2 === 0 ? 0.9 : 0.5) }),
  )

  const journal = openSync(join(served.data, 'bench-journal'), 'a')
  const line = `${JSON.stringify({ edit: 'setLookPart', args: { look: LOOK, part, light: light(0.9) } })}\n`
  const forced: number[] = []
  for (let n = 0; n < TIMES; n++) {
    const began = performance.now()
    writeSync(journal, line)
    fsyncSync(journal)
    forced.push(performance.now() - began)
  }
  closeSync(journal)

  const row = (name: string, all: number[], base: number[]): string[] => [
    name,
    ...[0.5, 0.99].map(share => figure(within(all, share))),
    ratio(within(all, 0.5), within(base, 0.5)),
    figure(within(all, 0.5) / PERIOD),
  ]
  console.log(`## To the wire

A look stands still on the stage of \`serve demo\`, sent at 40 frames a second to a socket of the bench; ${TIMES} times each, at any
moment of a frame's period, until a packet with other levels has come. A frame is due every ${PERIOD} ms, so half of that is waiting
on average. Pedal: the bytes of a note at the engine's own pipe, where its MIDI ports put them too. Press: blackout, by a page's
socket. Edit: the level of the look that stands. Baselines: a bare packet of the same length to a like socket; one line
appended to a file of the same folder and forced to the disk.

${table(
  ['', 'p50, ms', 'p99, ms', 'p50 / baseline', 'p50 / period'],
  [
    row('baseline: a bare packet', bare, bare),
    row('MIDI byte of a pedal to its packet', pedal.lit, bare),
    row('press on a page to its packet', press.lit, bare),
    row('edit to its packet', edits.lit, bare),
    row('baseline: append and fsync', forced, forced),
    row('edit to its durable acknowledgement', edits.answered, forced),
  ],
)}`)
} finally {
  link.close()
  page.close()
  await served.close()
  node.close()
}
