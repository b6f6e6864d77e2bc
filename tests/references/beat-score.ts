// How well beats were found, by the measures that the field uses.

/** Beats before this are not counted, s: a listener needs a while too. From memory of the toolbox named below. */
const SETTLING = 5
const WINDOW = 0.07

/**
 * F-measure of beats at ±70 ms: 2·hits / (found + true), each true beat hit once at most; beats of the first 5 s left
 * out. M. Davies, N. Degara, M. Plumbley, "Evaluation methods for musical audio beat tracking algorithms", Queen Mary
 * University of London, technical report C4DM-09-06, 2009, 2.1 (the formula from memory).
 */
export function fMeasure(found: readonly number[], truth: readonly number[]): number {
  const [ours, theirs] = [found, truth].map(times => times.filter(time => time >= SETTLING)) as [
    number[],
    number[],
  ]
  let hits = 0
  let from = 0
  for (const time of theirs) {
    while (from < ours.length && ours[from]! < time - WINDOW) from++
    if (from < ours.length && ours[from]! <= time + WINDOW) {
      hits++
      from++
    }
  }
  return ours.length + theirs.length === 0 ? 0 : (2 * hits) / (ours.length + theirs.length)
}

const FACTORS = [1, 1 / 2, 2, 1 / 3, 3]

/**
 * The metrical factor by which a tempo is right within 4 %: 1 counts for "accuracy 1", any for "accuracy 2"; null when
 * none fits. F. Gouyon et al., "An experimental comparison of audio tempo induction algorithms", IEEE Transactions on
 * Audio, Speech, and Language Processing 14(5), 2006 (factors and tolerance from memory).
 */
export const tempoFactor = (found: number, truth: number): number | null =>
  FACTORS.find(factor => Math.abs(found / (truth * factor) - 1) <= 0.04) ?? null
