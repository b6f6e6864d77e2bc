// A decoder's start address on its switches: binary ones and decimal dials, and the off-by-one that some have.

/** Nine binary switches and what each adds, from the first: together 1…511. Common practice, no source. */
export const switchValues = [1, 2, 4, 8, 16, 32, 64, 128, 256] as const

/** How a decoder counts its switches: the sum is the address, or the sum and one (all off is address 1). */
export type Counting = 'sum' | 'sumAndOne'

/**
 * Which of the nine switches stand on for a start address (1…512); null when they cannot say it: the plain sum ends
 * at 511.
 */
export function switchesOf(address: number, counting: Counting): boolean[] | null {
  const sum = counting === 'sum' ? address : address - 1
  if (!Number.isInteger(sum) || sum < 0 || sum > 511) return null
  return switchValues.map(value => (sum & value) !== 0)
}

/** The start address that nine switches say; 0 for a plain sum with all off, which most decoders take for address 1. */
export const addressOf = (on: readonly boolean[], counting: Counting): number =>
  switchValues.reduce<number>((sum, value, i) => sum + (on[i] ? value : 0), counting === 'sum' ? 0 : 1)

/** Three decimal dials, hundreds first. */
export const dialsOf = (address: number): [number, number, number] => [
  Math.floor(address / 100),
  Math.floor(address / 10) % 10,
  address % 10,
]
