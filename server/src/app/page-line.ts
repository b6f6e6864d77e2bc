// One line of a page, as far as it can be read before it is parsed.

/** The number by which the page waits for an answer, as far as it can be told; -1 for none. */
export function seqOf(value: unknown): number {
  const seq = typeof value === 'object' && value !== null && 'seq' in value ? value.seq : -1
  return Number.isInteger(seq) ? (seq as number) : -1
}

export function fromJson(text: string): unknown {
  try {
    return JSON.parse(text)
  } catch {
    return undefined
  }
}
