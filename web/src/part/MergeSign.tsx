// What a merge does, as a tiny picture: a low broad light above, a high narrow one on the track, and what comes of them.

import type { Track } from '@glowchart/shared/show/song.ts'

/** Heights of the light under the track, and of the track's own, over eight places, 0…1. */
const UNDER = [0.5, 0.5, 0.5, 0.5, 0.5, 0.5, 0.5, 0.5]
const OWN = [0, 0.2, 0.35, 0.9, 0.9, 0.35, 0.2, 0]

const merged: Record<Track['merge'], (under: number, own: number) => number> = {
  cover: (under, own) => (own > 0 ? own : under),
  highest: Math.max,
  add: (under, own) => Math.min(1, under + own),
  mask: (under, own) => under * own,
}

/** @param merge null: the first track, with nothing above it */
export function MergeSign({ merge }: { merge: Track['merge'] | null }) {
  return (
    <svg className="merge-sign" viewBox="0 0 24 14" aria-hidden="true">
      {OWN.map((own, i) => {
        const height = 13 * (merge === null ? own : merged[merge](UNDER[i]!, own))
        // biome-ignore lint/suspicious/noArrayIndexKey: eight places in a row.
        return <rect key={i} x={i * 3} y={13 - height} width="2.4" height={Math.max(0.8, height)} />
      })}
    </svg>
  )
}
