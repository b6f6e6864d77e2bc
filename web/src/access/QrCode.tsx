// A text as a QR code (ISO/IEC 18004) that a phone's camera reads from the laptop's screen.

import encodeQR from 'qr'
import { useMemo } from 'react'

/** Modules of quiet zone around it (ISO/IEC 18004 asks for four; from memory). */
const QUIET = 4

export function QrCode({ text }: { text: string }) {
  const { size, path } = useMemo(() => {
    const rows = encodeQR(text, 'raw', { border: QUIET })
    const dark = rows.flatMap((row, y) => row.flatMap((on, x) => (on ? `M${x} ${y}h1v1h-1z` : [])))
    return { size: rows.length, path: dark.join('') }
  }, [text])
  return (
    <svg
      className="qr"
      role="img"
      aria-label="The address with the PIN, for a phone's camera"
      viewBox={`0 0 ${size} ${size}`}
    >
      <path d={path} shapeRendering="crispEdges" />
    </svg>
  )
}
