// A small sign for each shape of build, drawn by us on a 24 grid.

import type { Shape } from '@glowchart/shared/rig/schema.ts'
import type { ReactNode } from 'react'

const drawings: Record<Shape, ReactNode> = {
  tube: <rect x="10" y="2.5" width="4" height="19" rx="2" />,
  bulb: (
    <>
      <circle cx="12" cy="14" r="6" />
      <path d="M9.500 8V4h5v4" />
    </>
  ),
  ring: (
    <>
      <circle cx="12" cy="12" r="9" />
      <circle cx="12" cy="12" r="6.200" />
    </>
  ),
  letters: <path d="M5 20 12 4l7 16M8 14h8" />,
  bar: (
    <>
      <rect x="2" y="12" width="20" height="4" rx="2" />
      <path d="M6 9V6m6 3V5m6 4V6" />
    </>
  ),
  panel: (
    <>
      <rect x="3" y="5" width="18" height="14" />
      <path d="M9 5v14M15 5v14M3 12h18" />
    </>
  ),
  line: <path d="M3 17c4-14 7 5 10-3s4-8 8-7" />,
}

export const BuildSign = ({ shape }: { shape: Shape }) => (
  <svg className="i build-sign" viewBox="0 0 24 24" aria-hidden="true">
    {drawings[shape]}
  </svg>
)
