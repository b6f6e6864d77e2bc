// How a row is made from pieces of advice: the worst one speaks, the others stand below it.

import type { Advice, AdviceKind } from '../advice/advice.ts'
import type { GoTo, Mend, Row } from './row.ts'

export const ofKinds = (advice: readonly Advice[], kinds: readonly AdviceKind[]): Advice[] =>
  advice.filter(({ kind }) => kinds.includes(kind))

/**
 * The row of advice that was found; `good`: what is said when there is none. Notes alone are good.
 */
export function foundRow(
  row: Pick<Row, 'id' | 'checked'>,
  advice: readonly Advice[],
  good: string,
  place: GoTo,
  mend?: Mend,
): Row {
  const bad = advice.filter(one => one.severity !== 'note')
  const sorted = [...bad].sort((a, b) => Number(b.severity === 'stop') - Number(a.severity === 'stop'))
  const [first, ...rest] = sorted
  if (!first) return { ...row, result: 'good', says: good }
  const more = rest.map(one => one.says)
  return {
    ...row,
    result: first.severity === 'stop' ? 'stop' : 'heed',
    says: first.says,
    ...(more.length > 0 && { more }),
    remedy: first.remedy,
    mend: mend ?? {
      do: 'go',
      place,
      ...(place === 'chart' && first.place.song !== undefined && { song: first.place.song }),
    },
  }
}
