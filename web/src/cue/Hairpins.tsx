// The fades of a cue over its picture, as hairpins.

import type { Cue } from '@glowchart/shared/show/song.ts'

export function Hairpins({ cue, width, height }: { cue: Cue; width: number; height: number }) {
  const across = (fade: Cue['fadeIn']) =>
    fade ? (Math.max(0, Math.min(cue.length, fade.length - fade.cut)) / cue.length) * width : 0
  const opens = across(cue.fadeIn)
  const closes = width - across(cue.fadeOut)
  return (
    <svg width={width} height={height} aria-hidden="true">
      {opens > 0 && <path d={`M${opens} 1L0 ${height / 2}L${opens} ${height - 1}`} />}
      {closes < width && <path d={`M${closes} 1L${width} ${height / 2}L${closes} ${height - 1}`} />}
    </svg>
  )
}
