// How two laptops come to share a secret from a code that one shows and the other's user types: the code never travels.

import {
  createHash,
  createHmac,
  createPublicKey,
  diffieHellman,
  generateKeyPairSync,
  hkdfSync,
  type KeyObject,
  randomInt,
  scryptSync,
  timingSafeEqual,
} from 'node:crypto'

/** Letters and digits that nobody takes for one another in the dark. */
const ALPHABET = 'ABCDEFGHJKMNPQRSTUVWXYZ23456789'
const CODE_LENGTH = 8

/** A one-time code, as it is shown: "K7PM-3WQX" (39 bits). */
export function newCode(): string {
  const letters = Array.from({ length: CODE_LENGTH }, () => ALPHABET[randomInt(ALPHABET.length)])
  return `${letters.slice(0, 4).join('')}-${letters.slice(4).join('')}`
}

/** What was typed, as it counts: capitals, without spaces and dashes; null when it cannot be a code. */
export function plainCode(typed: string): string | null {
  const plain = typed.toUpperCase().replace(/[\s-]/g, '')
  return plain.length === CODE_LENGTH && [...plain].every(letter => ALPHABET.includes(letter)) ? plain : null
}

/** One side's key for one pairing (X25519, RFC 7748). */
export interface PairingKey {
  /** SPKI in DER, as it is sent. */
  readonly open: Buffer
  readonly secret: KeyObject
}

export function pairingKey(): PairingKey {
  const { publicKey, privateKey } = generateKeyPairSync('x25519')
  return { open: publicKey.export({ type: 'spki', format: 'der' }), secret: privateKey }
}

export interface Agreement {
  /** Proves that the side knows the code; each side has its own. */
  readonly proofs: { readonly second: Buffer; readonly first: Buffer }
  /** The secret that the pair keeps, 32 octets. */
  readonly secret: Buffer
}

/**
 * What both sides come to when they know the same code. Who only listens learns nothing of the secret, whatever the
 * code (it comes of the key exchange); who stands between the two must guess the code while it stands, and scrypt
 * (RFC 7914) makes each guess dear.
 * @throws when `other` is not a key
 */
export function agree(
  own: PairingKey,
  other: Buffer,
  side: 'first' | 'second',
  code: string,
  salt: Buffer,
): Agreement {
  const publicKey = createPublicKey({ key: other, type: 'spki', format: 'der' })
  const shared = diffieHellman({ privateKey: own.secret, publicKey })
  const [first, second] = side === 'first' ? [own.open, other] : [other, own.open]
  const transcript = createHash('sha256').update(first).update(second).update(salt).digest()
  const stretched = scryptSync(code, salt, 32, { N: 1 << 14, r: 8, p: 1 })
  const key = Buffer.from(
    hkdfSync('sha256', Buffer.concat([shared, stretched]), transcript, 'glowchart pair', 64),
  )
  const proof = (of: string) =>
    createHmac('sha256', key.subarray(0, 32)).update(of).update(transcript).digest()
  return { proofs: { first: proof('first'), second: proof('second') }, secret: key.subarray(32) }
}

export const sameBytes = (a: Buffer, b: Buffer): boolean => a.length === b.length && timingSafeEqual(a, b)
