// How the benches write down what they measured: percentiles, ratios, Markdown tables.

/** The value that a share 0…1 of the values is not above (nearest rank). */
export function within(values: Iterable<number>, share: number): number {
  const sorted = Float64Array.from(values).sort()
  return sorted[Math.max(0, Math.ceil(share * sorted.length) - 1)] ?? Number.NaN
}

/** Three digits that count, and no exponent. */
export const figure = (value: number): string => {
  if (!Number.isFinite(value)) return '–'
  if (value === 0 || Math.abs(value) >= 1000) return value.toFixed(0)
  return value.toFixed(Math.min(6, Math.max(0, 2 - Math.floor(Math.log10(Math.abs(value))))))
}

export const ratio = (value: number, baseline: number): string => `${figure(value / baseline)} ×`

/** A Markdown table; the first column is text, the others are numbers. */
export function table(head: readonly string[], rows: readonly (readonly string[])[]): string {
  const line = (cells: readonly string[]): string => `| ${cells.join(' | ')} |`
  return [line(head), line(head.map((_, i) => (i === 0 ? '---' : '---:'))), ...rows.map(line)].join('\n')
}
