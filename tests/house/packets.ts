// E1.31 data packets and ArtDmx written octet by octet from the standards' tables, by no code of ours.

export interface E131Fields {
  /** One octet that fills the CID: two sources differ in it. */
  cid?: number
  name?: string
  priority?: number
  sequence?: number
  /** 0x80 preview, 0x40 stream terminated (E1.31-2018 6.2.6). */
  options?: number
  universe?: number
  startCode?: number
  /** From slot 1 on; the rest of 512 is 0. */
  slots: readonly number[]
}

/** ANSI E1.31-2018 Table 4-1. */
export function e131({
  cid = 1,
  name = 'Deck',
  priority = 100,
  sequence = 0,
  options = 0,
  universe = 7,
  startCode = 0,
  slots,
}: E131Fields): Buffer {
  const bytes = Buffer.alloc(638)
  bytes.writeUInt16BE(0x0010, 0)
  bytes.write('ASC-E1.17', 4, 'ascii')
  bytes.writeUInt16BE(0x726e, 16)
  bytes.writeUInt32BE(4, 18)
  bytes.fill(cid, 22, 38)
  bytes.writeUInt16BE(0x7258, 38)
  bytes.writeUInt32BE(2, 40)
  bytes.write(name, 44, 'utf8')
  bytes[108] = priority
  bytes[111] = sequence
  bytes[112] = options
  bytes.writeUInt16BE(universe, 113)
  bytes.writeUInt16BE(0x720b, 115)
  bytes[117] = 0x02
  bytes[118] = 0xa1
  bytes.writeUInt16BE(1, 121)
  bytes.writeUInt16BE(513, 123)
  bytes[125] = startCode
  for (const [i, slot] of slots.entries()) bytes[126 + i] = slot
  return bytes
}

/** Art-Net 4, ArtDmx. */
export function artDmxOctets(
  portAddress: number,
  slots: readonly number[],
  sequence = 0,
  physical = 0,
): Buffer {
  const bytes = Buffer.alloc(18 + 512)
  bytes.write('Art-Net', 0, 'ascii')
  bytes.writeUInt16LE(0x5000, 8)
  bytes.writeUInt16BE(14, 10)
  bytes[12] = sequence
  bytes[13] = physical
  bytes[14] = portAddress & 0xff
  bytes[15] = portAddress >> 8
  bytes.writeUInt16BE(512, 16)
  for (const [i, slot] of slots.entries()) bytes[18 + i] = slot
  return bytes
}
