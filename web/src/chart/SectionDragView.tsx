// A section being dragged, as it is drawn over the chart: where it would stand, what it would land on, how long it is.

import type { SectionDrag } from './section-drag.ts'

/** Width of a character in the nib, at most, px: it says its words to the left of the section's end. */
const CHARACTER = 7

export function SectionDragView({ drag, gutter }: { drag: SectionDrag; gutter: number }) {
  const nib = (left: number, top: number) => (
    <span className="nib dragged" role="status" style={{ left, top }}>
      {drag.says}
    </span>
  )
  if (drag.to === 'bars') {
    return (
      <>
        <span
          className="new-end"
          aria-hidden="true"
          style={{ left: drag.x - 4, top: drag.y, height: drag.foot - drag.y }}
        />
        {nib(Math.max(gutter, drag.x - drag.says.length * CHARACTER), drag.y - 22)}
      </>
    )
  }
  if (drag.to === 'mark') {
    return (
      <>
        <span className="landing-mark" aria-hidden="true" style={{ top: drag.y - 1, width: gutter - 26 }} />
        {nib(gutter, drag.y + 7)}
      </>
    )
  }
  return (
    <>
      {drag.to === 'place' && <span className="insertion" aria-hidden="true" style={{ top: drag.y - 2 }} />}
      {nib(gutter, drag.y - 10)}
    </>
  )
}
