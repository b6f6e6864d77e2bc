// The fuse of a socket in words: what is in, what each rule asks for, and where no legal one exists.

import type { SocketLoad } from '@glowchart/shared/power/box.ts'

const rules = { maker: 'makers’ rule (75 %)', code: 'code (125 % of the load)' } as const

/** @param fitted A; undefined: none */
export function fuseText({ fuses }: SocketLoad, fitted: number | undefined): string {
  const limit = fuses[0]?.limit ?? null
  const choices = fuses.map(
    ({ rule, fuse }) => `${rules[rule]}: ${fuse === null ? 'no legal fuse' : `${fuse} A`}`,
  )
  const has = fitted === undefined ? 'None is fitted' : `${fitted} A fitted`
  const allows =
    limit === null ? 'the code’s table has none for so thin a conductor' : `the conductor allows ${limit} A`
  return `${has}; ${choices.join(', ')}; ${allows}`
}
