// The signs of the tool, drawn by us on a 24 grid, and its mark: three strands, the middle one swelling into light.

import type { ReactNode } from 'react'

const signs = {
  note: (
    <>
      <ellipse className="f" cx="9" cy="18" rx="4.2" ry="3.1" transform="rotate(-20 9 18)" />
      <path d="M13 17V3.5" />
    </>
  ),
  play: <path className="f" d="M7 4.5 19.5 12 7 19.5z" />,
  playFrom: (
    <>
      <path d="M5 5v14" />
      <path className="f" d="M9 5.5 19.5 12 9 18.5z" />
    </>
  ),
  sound: (
    <>
      <path className="f" d="M4 9.5h4l5-4.5v14l-5-4.5H4z" />
      <path d="M16 9a4.5 4.5 0 0 1 0 6M18.5 6.5a8 8 0 0 1 0 11" />
    </>
  ),
  silent: (
    <>
      <path className="f" d="M4 9.5h4l5-4.5v14l-5-4.5H4z" />
      <path d="m16.5 9.5 5 5M21.5 9.5l-5 5" />
    </>
  ),
  halt: <path className="f" d="M6 6h12v12H6z" />,
  home: (
    <>
      <path d="M6 5v14" />
      <path className="f" d="M19 5v14L9 12z" />
    </>
  ),
  barBack: (
    <>
      <path d="M19 5v14" opacity=".55" />
      <path d="m14 6-6 6 6 6" />
    </>
  ),
  barOn: (
    <>
      <path d="M5 5v14" opacity=".55" />
      <path d="m10 6 6 6-6 6" />
    </>
  ),
  repeat: (
    <>
      <path d="M4 4v16M20 4v16" strokeWidth="3" />
      <path d="M7.6 4v16M16.4 4v16" strokeWidth="1.2" />
      <circle className="f" cx="10.4" cy="9.5" r="1.3" />
      <circle className="f" cx="10.4" cy="14.5" r="1.3" />
      <circle className="f" cx="13.6" cy="9.5" r="1.3" />
      <circle className="f" cx="13.6" cy="14.5" r="1.3" />
    </>
  ),
  simile: (
    <>
      <path d="M5 19 19 5" strokeWidth="3" />
      <circle className="f" cx="6.5" cy="8" r="2" />
      <circle className="f" cx="17.5" cy="16" r="2" />
    </>
  ),
  leave: (
    <>
      <path d="M4 4v16" strokeWidth="3" />
      <circle className="f" cx="8.6" cy="9.5" r="1.3" />
      <circle className="f" cx="8.6" cy="14.5" r="1.3" />
      <path d="M12 12h8m-3.5-3.5L20 12l-3.5 3.5" />
    </>
  ),
  dark: (
    <>
      <circle cx="12" cy="12" r="8.5" />
      <path className="f" d="M12 3.5a8.5 8.5 0 0 0 0 17z" />
    </>
  ),
  guard: (
    <>
      <path d="M4 11V8a8 8 0 0 1 16 0v3" />
      <rect x="3" y="11" width="18" height="9" />
    </>
  ),
  pedal: (
    <>
      <path d="M3 19h18M5 19l2-7.5h10l2 7.5" />
      <path d="M12 3v5m-2.5-2.5L12 8l2.500-2.500" />
    </>
  ),
  tick: <path d="m4.5 12.5 5 5.500L19.5 6.5" />,
  cross: <path d="m6 6 12 12M18 6 6 18" />,
  undo: <path d="M9 5 4.5 9.5 9 14M5 9.5h9a5 5 0 0 1 0 10h-4" />,
  redo: <path d="m15 5 4.5 4.5L15 14M19 9.5h-9a5 5 0 0 0 0 10h4" />,
  tap: <path d="M5 20V4l9 4-9 4M17 20h3" />,
  list: <path d="M9 6h11M9 12h11M9 18h11M4 6h.5M4 12h.5M4 18h.5" />,
  plus: <path d="M12 5v14M5 12h14" />,
  dash: <path d="M5 12h14" />,
  specs: (
    <>
      <circle cx="6.6" cy="14" r="4" />
      <circle cx="17.4" cy="14" r="4" />
      <path d="M10.5 13c.8-1 2.2-1 3 0M2.6 13 5 6.5M21.4 13 19 6.5" />
    </>
  ),
  unfold: <path d="m5 9 7 7 7-7" />,
  up: <path d="m6 14 6-6 6 6" />,
  down: <path d="m6 10 6 6 6-6" />,
  lamp: (
    <>
      <circle cx="12" cy="12" r="3.6" />
      <path d="M12 3v2.500M12 18.500V21M3 12h2.500M18.500 12H21M5.600 5.600l1.800 1.800M16.600 16.600l1.800 1.800M18.400 5.600l-1.800 1.800M7.400 16.600l-1.800 1.800" />
    </>
  ),
  cable: <path d="M3 18c7 0 4-12 9-12s2 12 9 12" />,
} as const satisfies Record<string, ReactNode>

export function Sign({ name }: { name: keyof typeof signs }) {
  return (
    <svg className="i" viewBox="0 0 24 24" aria-hidden="true">
      {signs[name]}
    </svg>
  )
}

export function Wordmark() {
  return (
    <svg viewBox="0 0 34 20" width="34" height="20" aria-hidden="true">
      <path d="M1 4h32M1 16h32" stroke="currentColor" strokeWidth="1" opacity=".55" />
      <path d="M1 10c8 0 10-4.2 16-4.200S26 10 33 10c-7 0-10 4.2-16 4.200S9 10 1 10z" fill="#ffdfae" />
    </svg>
  )
}
