// Fuzzed: what strangers send over wires and the network (MIDI, OSC, Art-Net, sACN), and the pipe between our own processes.

import { once } from 'node:events'
import { connect } from 'node:net'
import { serialize } from 'node:v8'
import { engineAddress, servePipe } from '@glowchart/server/engine/pipe.ts'
import { createDesk } from '@glowchart/server/house/desk.ts'
import { artDmx, decodeArtDmx, decodeArtPollReply } from '@glowchart/server/output/artnet.ts'
import { dataPacket, decodeE131, discoveryPackets, syncPacket } from '@glowchart/server/output/e131.ts'
import { NodeBook } from '@glowchart/server/output/node-book.ts'
import { followMtc, mtcFollower, mtcSecondsAt } from '@glowchart/shared/clock/mtc-follower.ts'
import { type MidiParser, midiParser, parseByte, SYSEX_LIMIT } from '@glowchart/shared/clock/parser.ts'
import { oscMethods } from '@glowchart/shared/osc/commands.ts'
import { decodeOsc, messagesOf } from '@glowchart/shared/osc/packet.ts'
import { matchesPattern } from '@glowchart/shared/osc/pattern.ts'
import { pollReply } from '../output/fake-node.ts'
import { sampleDocuments } from '../show/samples.ts'
import { tempFolder } from '../support/processes.ts'
import { type Area, answer, outcome } from './area.ts'
import { spoiltBytes } from './spoil.ts'

/** Bytes as they come from a port, into the parser and the time code's follower. */
export async function midiBytes(): Promise<Area> {
  const whole = Uint8Array.of(
    0xf1,
    0x20,
    0xf0,
    0x7f,
    0x7f,
    0x01,
    0x01,
    0x21,
    0x10,
    0x05,
    0x09,
    0xf7,
    0xfa,
    0xf8,
    0xf2,
    0x10,
    0x20,
    0x90,
    60,
    100,
    0xc3,
    5,
  )
  let parser: MidiParser = midiParser
  let follower = mtcFollower
  let at = 0
  return {
    one(next) {
      let heard = 0
      for (const byte of spoiltBytes(whole, next)) {
        at += next() * 9
        const parsed = parseByte(parser, byte, at)
        parser = parsed.parser
        if ((parser.sysEx?.length ?? 0) > SYSEX_LIMIT)
          throw new Error('an exclusive message without end is kept')
        if (!parsed.message) continue
        heard++
        follower = followMtc(follower, parsed.message)
        const seconds = mtcSecondsAt(follower, at + 25)
        if (!Number.isFinite(seconds)) throw new Error(`the time code's place is ${seconds}`)
      }
      return heard > 0 ? 'taken' : 'refused'
    },
  }
}

/** A packet of OSC 1.0 from its parts, padded to four octets each. */
function oscPacket(address: string, tags: string, ...args: number[]): Uint8Array {
  const padded = (text: string): number[] => {
    const bytes = [...Buffer.from(`${text}\0`)]
    while (bytes.length % 4 !== 0) bytes.push(0)
    return bytes
  }
  return Uint8Array.from([...padded(address), ...padded(tags), ...args])
}

export async function osc(): Promise<Area> {
  const one = oscPacket(
    '/glowchart/part/tubes',
    ',fsbi',
    0x3f,
    0x80,
    0,
    0,
    65,
    66,
    0,
    0,
    0,
    0,
    0,
    2,
    1,
    2,
    0,
    0,
    0,
    0,
    0,
    7,
  )
  const inner = [0, 0, 0, one.length, ...one]
  const bundle = Uint8Array.from([...Buffer.from('#bundle\0'), 0, 0, 0, 0, 0, 0, 0, 1, ...inner, ...inner])
  const stars = oscPacket(`/glowchart/${'*a'.repeat(80)}{b,*}[!x]`, ',T')
  const addresses = oscMethods(sampleDocuments().show).map(({ address }) => address)
  return {
    one(next) {
      const packet = [one, bundle, stars][Math.floor(next() * 3)]!
      const read = answer(() => decodeOsc(spoiltBytes(packet, next), 'fuzz'))
      for (const { address } of read ? messagesOf(read) : []) {
        for (const ours of addresses) matchesPattern(address, ours)
      }
      return outcome(read)
    },
  }
}

/** Replies of nodes, and the house's desk: decoded, and kept for as long as they may be. */
export async function network(): Promise<Area> {
  const cid = new Uint8Array(16).fill(9)
  const header = { cid, sourceName: 'Desk', universe: 1, priority: 100, preview: false, sync: 0 }
  const replies = [
    {
      address: '10.0.0.2',
      shortName: 'Node',
      longName: 'Node one',
      net: 0,
      subNet: 0,
      ports: [{ output: 1 }],
    },
  ]
  const packets = [
    ...replies.map(pollReply),
    artDmx(0),
    dataPacket(header),
    syncPacket(cid, 7),
    ...discoveryPackets(cid, 'Desk', [1, 2, 3]),
  ]
  const book = new NodeBook()
  const own = new Uint8Array(16).fill(1)
  const desks = [createDesk(own, () => {}), createDesk(own, () => {})] as const
  desks[0].expect({ from: { protocol: 'sacn', universe: 1, port: 5568 }, blackout: 1, master: 2 })
  desks[1].expect({ from: { protocol: 'artnet', portAddress: 0 }, blackout: 1, master: 512 })
  let now = 0
  return {
    one(next) {
      now += next() * 200
      const bytes = spoiltBytes(packets[Math.floor(next() * packets.length)]!, next)
      const from = `10.0.${Math.floor(next() * 4)}.${Math.floor(next() * 256)}`
      const reply = decodeArtPollReply(bytes)
      if (reply) book.answered(from, reply, now)
      book.strike(now)
      if (book.list().length > 256) throw new Error('the book of nodes grows without end')
      const dmx = decodeArtDmx(bytes)
      if (dmx) desks[1].hearArtnet(dmx, from, now)
      const sacn = decodeE131(bytes)
      if (sacn) desks[0].hearSacn(sacn, from, now)
      for (const { house } of desks) {
        if (!(house.grand >= 0 && house.grand <= 1)) throw new Error(`the house's master is ${house.grand}`)
      }
      return reply || dmx || sacn ? 'taken' : 'refused'
    },
  }
}

/** The pipe that the engine listens at: a client that sends anything is cut off, and others are still heard. */
export async function pipe(): Promise<Area> {
  const folder = tempFolder()
  const address = engineAddress(folder.path)
  let heard = 0
  const server = await servePipe(address, { opened() {}, closed() {}, message: () => heard++ })
  const body = serialize({ type: 'frames', on: true })
  const head = Buffer.alloc(4)
  head.writeUInt32LE(body.length)
  const whole = Buffer.concat([head, body, head, body])
  return {
    async one(next) {
      const before = heard
      const socket = connect(address)
      await once(socket, 'connect')
      const closed = once(socket, 'close')
      socket.on('error', () => {})
      socket.end(spoiltBytes(whole, next))
      socket.resume()
      await closed
      return heard > before ? 'taken' : 'refused'
    },
    async close() {
      server.close()
      folder.remove()
    },
  }
}
