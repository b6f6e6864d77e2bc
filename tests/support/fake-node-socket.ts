// An Art-Net node on loopback that answers ArtPoll while it is on, and keeps the ArtDmx it is sent.

import { type ArtDmx, decodeArtDmx } from '@glowchart/server/output/artnet.ts'
import { pollReply } from '../output/fake-node.ts'
import { openInbox } from './inbox.ts'

export interface FakeNode {
  readonly port: number
  /** Polls answered so far. */
  readonly polls: number
  readonly frames: ArtDmx[]
  /** It answers no poll and takes no light while it is off. */
  on: boolean
  close(): Promise<void>
}

/** @param outputs universes 0…15 of Net 0, Sub-Net 0, one a port */
export async function openFakeNode(shortName: string, outputs: readonly number[]): Promise<FakeNode> {
  const inbox = await openInbox()
  const reply = pollReply({
    address: '127.0.0.1',
    shortName,
    longName: `${shortName} of the test`,
    net: 0,
    subNet: 0,
    ports: outputs.map(output => ({ output })),
  })
  const node = { port: inbox.port, polls: 0, frames: [] as ArtDmx[], on: true, close: inbox.close }
  inbox.socket.on('message', (bytes, from) => {
    if (!node.on) return
    const frame = decodeArtDmx(bytes)
    if (frame) node.frames.push(frame)
    else if (bytes.readUInt16LE(8) === 0x2000) {
      node.polls++
      inbox.socket.send(reply, from.port, from.address)
    }
  })
  return node
}
