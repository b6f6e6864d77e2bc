// The PIN that guests join with: made by chance, kept as a salted hash that takes long to try.

import { randomBytes, randomInt, scrypt, timingSafeEqual } from 'node:crypto'
import { promisify } from 'node:util'
import type { PinHash } from '@glowchart/shared/access/kept.ts'

const DIGITS = 8
/** scrypt (RFC 7914): 32 MiB and some 0.1 s a try on a laptop. */
const COST = { N: 2 ** 15, r: 8, p: 1, maxmem: 64 * 1024 * 1024 }
const LENGTH = 32

const derive = promisify<string, Buffer, number, typeof COST, Buffer>(scrypt)

/** Eight digits, each as likely as any other. */
export const newPin = (): string => String(randomInt(10 ** DIGITS)).padStart(DIGITS, '0')

export async function hashPin(pin: string): Promise<PinHash> {
  const salt = randomBytes(16)
  return { salt: salt.toString('hex'), hash: (await derive(pin, salt, LENGTH, COST)).toString('hex') }
}

/** Whether this is the PIN, spaces and hyphens left out; takes as long for a wrong one as for the right one. */
export async function isPin(typed: string, { salt, hash }: PinHash): Promise<boolean> {
  const found = await derive(typed.replace(/[\s-]/g, ''), Buffer.from(salt, 'hex'), LENGTH, COST)
  return timingSafeEqual(found, Buffer.from(hash, 'hex'))
}
