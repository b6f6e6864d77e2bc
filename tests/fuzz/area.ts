// What a fuzzed area is: a maker of cases, each fed to the product; a coded error is an answer, anything else a find.

import { CodedError } from '@glowchart/shared/errors.ts'

/** Does one case from a seed's numbers. Resolves with what became of it; anything it throws is a find. */
type Case = (next: () => number) => Outcome | Promise<Outcome>
export type Outcome = 'taken' | 'refused'

export interface Area {
  readonly one: Case
  close?(): Promise<void>
}

/** What a call gives, or undefined for a coded error. */
export function answer<T>(call: () => T): T | undefined {
  try {
    return call()
  } catch (error) {
    if (error instanceof CodedError) return undefined
    throw error
  }
}

export const outcome = (result: unknown): Outcome => (result === undefined ? 'refused' : 'taken')
