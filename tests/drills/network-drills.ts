// Drills of others on the network: the house goes dark by its own desk, and phones join in the middle of a song.

import { createSocket } from 'node:dgram'
import { setTimeout as sleep } from 'node:timers/promises'
import { monotonicMs } from '@glowchart/server/engine/now.ts'
import { e131 } from '../house/packets.ts'
import { openToGuests } from '../support/guests.ts'
import { openInbox } from '../support/inbox.ts'
import type { Drill, Figure } from './drill.ts'
import { lightFigures, play, wireFigures } from './playing.ts'
import type { HeardPacket } from './receiver-process.ts'
import { onStage, PERIOD } from './stage.ts'

const isDark = ({ levels }: HeardPacket): boolean => levels.every(level => level === 0)

const exactly = (what: string, value: number, of: number, source: string): Figure => ({
  what,
  value,
  unit: '',
  limit: { exactly: of },
  source,
})

const SOURCE = 'E1.31-2018 Appendix A: a source is lost after 2.5 s'

export const houseBlackout: Drill = {
  name: 'house-blackout',
  title:
    'The house goes dark by its own desk (sACN) while a song plays, then its desk is switched off: dark at once, dark still, said, and released by a hand',
  run: () =>
    onStage(async stage => {
      const { page, receiver } = stage
      const probe = await openInbox()
      const { port } = probe
      await probe.close()
      const from = { protocol: 'sacn', universe: 7, port }
      const kit = page.hello.show.tonight
      await page.ask({
        type: 'edit',
        edit: 'setVenue',
        args: { kit, house: { from, blackout: 1, master: 2 } },
      })
      await stage.status(one => one.house.state === 'waiting')
      const zero = await play(stage)
      const desk = createSocket('udp4')
      let sequence = 0
      let blackout = 0
      const tell = (): void =>
        desk.send(e131({ sequence: sequence++ & 255, slots: [blackout, 255] }), port, '127.0.0.1')
      const telling = setInterval(tell, 25)
      await stage.status(one => one.house.state === 'heard')
      await sleep(1000)
      blackout = 255
      tell()
      const dark = monotonicMs()
      await sleep(1000)
      clearInterval(telling)
      const silent = monotonicMs()
      const lost = await stage.status(one => one.house.state === 'lost')
      await sleep(1000)
      const pressed = monotonicMs()
      const released = await page.ask({ type: 'releaseHouse' })
      await sleep(1000)
      await new Promise<void>(resolve => desk.close(() => resolve()))
      const packets = await receiver.look()
      const firstDark = packets.find(packet => packet.at > dark && isDark(packet))?.at ?? Number.NaN
      const firstLit = packets.find(packet => packet.at > pressed && !isDark(packet))?.at ?? Number.NaN
      const litMeanwhile = packets.filter(
        packet => packet.at > firstDark && packet.at < pressed && !isDark(packet),
      )
      const margin = receiver.stall
      return [
        {
          what: 'dark at the receiver after the packet of the house',
          value: firstDark - dark,
          unit: 'ms',
          limit: { atMost: 3 * PERIOD + 2 * margin },
          source: 'our own: a frame to be rendered in, and two for the machine',
        },
        exactly(
          'packets with light until it is released',
          litMeanwhile.length,
          0,
          'what the house says is held over its loss',
        ),
        {
          what: 'the loss of the house is said after',
          value: lost.at - silent,
          unit: 'ms',
          limit: { atMost: 3000 + 2 * margin },
          source: SOURCE,
        },
        exactly(
          'released by a hand',
          Number(released.type === 'done'),
          1,
          'a desk that is gone releases nothing',
        ),
        {
          what: 'light again after the hand',
          value: firstLit - pressed,
          unit: 'ms',
          limit: { atMost: 500 + 2 * margin },
          source: 'our own',
        },
        ...wireFigures(stage),
        ...lightFigures(stage, zero, firstLit),
      ]
    }),
}

const PHONES = 20

export const phonesJoin: Drill = {
  name: 'phone-joins',
  title: `A phone with a wrong PIN, then ${PHONES} phones join in the middle of a song and take every frame: they look on, and press nothing`,
  run: () =>
    onStage(async stage => {
      const { page } = stage
      const zero = await play(stage)
      const before = await stage.status(() => true)
      const opened = await openToGuests(page)
      const wrong = await fetch(`${opened.url}/api/join`, {
        method: 'POST',
        body: JSON.stringify({ pin: opened.pin === '00000000' ? '11111111' : '00000000', name: 'Stranger' }),
      })
      const began = monotonicMs()
      let longest = 0
      let refused = 0
      const phones = []
      for (let i = 0; i < PHONES; i++) {
        const at = monotonicMs()
        const joined = await opened.join(`Phone ${i}`)
        const phone = await joined.page()
        phone.send({ type: 'frames', on: true })
        longest = Math.max(longest, monotonicMs() - at)
        const answer = await phone.ask({ type: 'transport', transport: { do: 'stop' } })
        if (answer.type === 'refused') refused++
        phones.push(phone)
      }
      await sleep(3000)
      const seeing = phones.filter(phone => phone.frames.length > 0).length
      const after = await stage.status(() => true)
      for (const phone of phones) phone.close()
      await stage.receiver.look()
      return [
        exactly('answer to a wrong PIN', wrong.status, 401, 'RFC 9110 15.5.2: Unauthorized'),
        exactly('phones that see the light', seeing, PHONES, 'each had the PIN'),
        exactly('presses of theirs that were refused', refused, PHONES, 'who looks on presses nothing'),
        exactly('the song plays on', Number(after.playing), 1, 'the same'),
        {
          what: 'longest time to join',
          value: longest,
          unit: 'ms',
          limit: { atMost: 5000 },
          source: 'our own',
        },
        { what: 'all of them within', value: after.at - 3000 - began, unit: 'ms', limit: 'tells' },
        {
          what: 'frames left out meanwhile',
          value: after.frames.skipped - before.frames.skipped,
          unit: '',
          limit: 'tells',
        },
        ...wireFigures(stage),
        ...lightFigures(stage, zero),
      ]
    }),
}
