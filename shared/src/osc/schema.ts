// Where Open Sound Control is heard: a UDP port at one of this laptop's addresses. Kept with the show, beside its triggers.

import { z } from 'zod'

/** Art-Net and sACN listen there themselves (Art-Net 4; E1.31-2018 Appendix A). */
const TAKEN: ReadonlySet<number> = new Set([6454, 5568])

export const oscSchema = z.object({
  port: z
    .int()
    .min(1024)
    .max(65535)
    .refine(port => !TAKEN.has(port), 'belongs to Art-Net or sACN'),
  /** 127.0.0.1 hears programs on this laptop alone, 0.0.0.0 everybody on all its networks: the protocol has no password. */
  address: z.ipv4(),
})
export type OscIn = z.infer<typeof oscSchema>

/** An address that a trigger may stand for: no pattern, as OSC 1.0 has the addresses of methods. */
export const oscAddress = z
  .string()
  .max(255)
  .regex(/^\/[^\s#*,?[\]{}\u0080-\uffff]+$/)
