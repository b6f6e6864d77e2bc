// Drills of the night: a box that dies, an edit before doors, and two bands from one laptop.

import { readFileSync } from 'node:fs'
import { join } from 'node:path'
import { setTimeout as sleep } from 'node:timers/promises'
import { monotonicMs } from '@glowchart/server/engine/now.ts'
import type { AppMessage } from '@glowchart/shared/messages.ts'
import type { Documents } from '@glowchart/shared/show/edits/edit.ts'
import { applyEdit } from '@glowchart/shared/show/edits.ts'
import { timelineOf } from '@glowchart/shared/time/timeline.ts'
import type { VersionRequest } from '@glowchart/shared/version/request.ts'
import type { Drill, Figure } from './drill.ts'
import { begun, lightOfFigures, play, SONG, wireFigures } from './playing.ts'
import { lightOf } from './position.ts'
import type { HeardPacket } from './receiver-process.ts'
import { openShow, secondBand } from './second-band.ts'
import { onStage, PERIOD, type Stage } from './stage.ts'

async function edit(stage: Stage, name: string, args: unknown): Promise<void> {
  const answer = await stage.page.ask({ type: 'edit', edit: name, args })
  if (answer.type === 'refused') throw new Error(`${name} was refused: ${answer.problem.message}`)
}

const isDark = ({ levels }: HeardPacket, first: number, last: number): boolean =>
  levels.subarray(first - 1, last).every(level => level === 0)

const exactly = (what: string, value: number, of: number, source: string): Figure => ({
  what,
  value,
  unit: '',
  limit: { exactly: of },
  source,
})

/** From a press until the light at the receiver is another document's for good, ms; NaN when it never is. */
function changedAfter(
  packets: readonly HeardPacket[],
  pressed: number,
  light: readonly Buffer[],
  zero: number,
): number {
  const shows = ({ at, levels }: HeardPacket): boolean => {
    const due = Math.floor((at - zero) / PERIOD)
    return [0, -1, 1, -2, 2].some(off => light[due + off]?.equals(levels))
  }
  const after = packets.filter(({ at }) => at >= pressed)
  const last = after.findLastIndex(packet => !shows(packet))
  return (after[last + 1]?.at ?? Number.NaN) - pressed
}

const SOON: Pick<Figure, 'limit' | 'source'> = {
  limit: { atMost: 1000 },
  source: 'our own: seen within a second',
}

export const boxDead: Drill = {
  name: 'box-dead',
  title:
    'A box dies in the song: one action gives its places in the parts to what is left; it comes back by another',
  run: () =>
    onStage(async stage => {
      const { rig, show } = stage.page.hello
      const args = { kit: show.tonight, box: 'left' }
      const without = applyEdit({ rig, show }, 'playWithoutBox', args).next
      const lights = { whole: lightOf({ rig, show }, SONG), left: lightOf(without, SONG) }
      const zero = await play(stage)
      await sleep(1500)
      const dead = monotonicMs()
      await edit(stage, 'playWithoutBox', args)
      await sleep(2500)
      const back = monotonicMs()
      await edit(stage, 'playWithBox', args)
      await sleep(1500)
      const packets = await stage.receiver.look()
      const { address, sockets } = rig.boxes.left!
      const last = address + sockets.reduce((sum, { channels }) => sum + channels, 0) - 1
      const taken = changedAfter(
        packets.filter(({ at }) => at < back),
        dead,
        lights.left,
        zero,
      )
      const from = dead + taken
      return [
        { what: 'presses', value: 1, unit: '', limit: { exactly: 1 }, source: 'one action' },
        { what: 'the parts play on what is left after', value: taken, unit: 'ms', ...SOON },
        exactly(
          'packets that still light the dead box',
          packets.filter(packet => packet.at > from && packet.at < back && !isDark(packet, address, last))
            .length,
          0,
          'its places are moved',
        ),
        ...lightOfFigures(stage, lights.left, zero, from, back),
        {
          what: 'the whole stage again after',
          value: changedAfter(packets, back, lights.whole, zero),
          unit: 'ms',
          ...SOON,
        },
        ...wireFigures(stage),
      ]
    }),
}

async function askVersion(stage: Stage, version: VersionRequest): Promise<void> {
  const answer = await stage.page.ask({ type: 'version', version })
  if (answer.type === 'refused') throw new Error(`${version.do} was refused: ${answer.problem.message}`)
}

type Message<T extends AppMessage['type']> = Extract<AppMessage, { type: T }>
const lastOf = <T extends AppMessage['type']>(stage: Stage, type: T): Message<T> =>
  stage.page.messages.findLast((message): message is Message<T> => message.type === type)!

async function publishAll(stage: Stage): Promise<void> {
  await askVersion(stage, { do: 'check', take: 'all' })
  const { hash } = lastOf(stage, 'checked').checked
  await askVersion(stage, { do: 'publish', take: 'all', hash, despite: true })
}

export const editBeforeDoors: Drill = {
  name: 'edit-before-doors',
  title:
    'A version is published and plays; an edit reaches no light until it is taken in, whole, between two frames; one step back',
  run: () =>
    onStage(async stage => {
      const { rig, show } = stage.page.hello
      await publishAll(stage)
      await stage.status(one => one.version !== null)
      // All swatches become another colour: no frame of the song stays as it was.
      const recoloured = Object.keys(show.swatches).map(swatch => ({ swatch, hex: '#30ff30' }))
      let next: Documents = { rig, show }
      for (const args of recoloured) next = applyEdit(next, 'setSwatch', args).next
      const lights = { published: lightOf({ rig, show }, SONG), edited: lightOf(next, SONG) }
      const zero = await play(stage)
      await sleep(500)
      for (const args of recoloured) await edit(stage, 'setSwatch', args)
      await sleep(1000)
      const taken = monotonicMs()
      await publishAll(stage)
      await sleep(1000)
      const wentBack = monotonicMs()
      await askVersion(stage, { do: 'run', number: 1, from: 2 })
      await sleep(1000)
      const packets = await stage.receiver.look()
      const takenAfter = changedAfter(
        packets.filter(({ at }) => at < wentBack),
        taken,
        lights.edited,
        zero,
      )
      const backAfter = changedAfter(packets, wentBack, lights.published, zero)
      const both = new Set([...lights.published, ...lights.edited].map(levels => levels.toString('latin1')))
      const half = packets.filter(
        ({ at, levels }) => at > begun(stage) && !both.has(Buffer.from(levels).toString('latin1')),
      )
      return [
        ...lightOfFigures(stage, lights.published, zero, begun(stage), taken),
        {
          what: 'taken in, seen after',
          value: takenAfter,
          unit: 'ms',
          limit: { atMost: 10_000 },
          source: 'our own: checked with all advice, made durable, compiled; the song goes on meanwhile',
        },
        {
          what: 'one step back, seen after',
          value: backAfter,
          unit: 'ms',
          limit: { atMost: 10_000 },
          source: 'the same',
        },
        exactly('packets half old, half new', half.length, 0, 'never half updates a frame'),
        ...wireFigures(stage),
      ]
    }),
}

export const twoBands: Drill = {
  name: 'two-bands',
  title:
    'Two bands in one night from one laptop: the second show is opened while the first plays; the first comes back as it was left',
  run: () =>
    onStage(async stage => {
      const { rig, show } = stage.page.hello
      const second = secondBand({ rig, show })
      await edit(stage, 'renameSong', { song: SONG, title: 'Porchlight, as left' })
      // Hands of the first band that must not lie on the second.
      await stage.page.ask({ type: 'live', live: { parts: { tubes: 0.2, letters: 0 }, bumps: { bulbs: 1 } } })
      await play(stage)
      await sleep(1000)
      const opened = monotonicMs()
      await openShow(stage.served.url, second)
      const first = await stage.status(one => one.song !== null && one.song !== SONG)
      const standing = await stage.status(one => one.at > first.at + 300)
      const rested = (await stage.receiver.look()).filter(({ at }) => at > first.at + 3 * PERIOD)
      const { address, sockets } = rig.boxes.fly!
      const last = address + sockets.reduce((sum, { channels }) => sum + channels, 0) - 1
      const song = second.show.songOrder[0]!
      const light = lightOf(second, song)
      // Its refrain.
      const zero = await play(stage, song, 18 * 3840, timelineOf(second.show.songs[song]!).tempo)
      await stage.receiver.more(160)
      const figures = lightOfFigures(stage, light, zero, begun(stage))
      const seen = [...rested, ...stage.receiver.packets]
      // Back to the first band.
      await stage.press({ do: 'stop' })
      await openShow(stage.served.url, show.id)
      await stage.status(one => one.song === SONG)
      const kept = JSON.parse(readFileSync(join(stage.served.data, 'shows', `${show.id}.json`), 'utf8'))
      const hello = lastOf(stage, 'hello')
      return [
        {
          what: 'the second show stands after',
          value: first.at - opened,
          unit: 'ms',
          limit: { atMost: 2000 },
          source: 'our own',
        },
        exactly('it plays by itself', Number(standing.playing), 0, 'a show begins when it is started'),
        exactly(
          'masters and bumps left over',
          Object.keys({ ...standing.live.parts, ...standing.live.bumps }).length,
          0,
          'nothing of the first show remains',
        ),
        exactly(
          'packets that light slots of the first kit',
          seen.filter(packet => !isDark(packet, 1, address - 1) || !isDark(packet, last + 1, 512)).length,
          0,
          'the kit of the second show is another box',
        ),
        ...figures,
        exactly(
          'the edit of the first show is on the disk',
          Number(kept.songs[SONG].title === 'Porchlight, as left'),
          1,
          'acknowledged is durable',
        ),
        exactly(
          'and on the page when it is opened again',
          Number(hello.show.songs[SONG]!.title === 'Porchlight, as left'),
          1,
          'the same',
        ),
        ...wireFigures(stage),
      ]
    }),
}
