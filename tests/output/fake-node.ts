// An Art-Net node for tests: ArtPollReply packets laid out octet by octet from the published Art-Net 4 table.

export interface NodeDescription {
  address: string
  shortName: string
  longName: string
  net: number
  subNet: number
  bindIndex?: number
  ports: readonly { output?: number; input?: number }[]
}

/** 239 octets. Offsets: Art-Net 4, ArtPollReply. */
export function pollReply(node: NodeDescription): Uint8Array {
  const bytes = Buffer.alloc(239)
  bytes.write('Art-Net\0', 0, 'latin1')
  bytes.writeUInt16LE(0x2100, 8)
  bytes.set(node.address.split('.').map(Number), 10)
  bytes.writeUInt16LE(0x1936, 14)
  bytes[18] = node.net
  bytes[19] = node.subNet
  bytes.write(node.shortName.slice(0, 17), 26, 'latin1')
  bytes.write(node.longName.slice(0, 63), 44, 'latin1')
  bytes.write('#0001 [0000] ready', 108, 'latin1')
  bytes.writeUInt16BE(node.ports.length, 172)
  for (const [i, { output, input }] of node.ports.entries()) {
    bytes[174 + i] = (output === undefined ? 0 : 0x80) | (input === undefined ? 0 : 0x40)
    bytes[186 + i] = input ?? 0
    bytes[190 + i] = output ?? 0
  }
  bytes[211] = node.bindIndex ?? 1
  return Uint8Array.from(bytes)
}
