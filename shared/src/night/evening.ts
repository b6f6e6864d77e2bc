// Which evening a moment belongs to (a night goes on until five in the morning), and how moments and spans are written.

/** The hour at which a night is over: what comes before it belongs to the evening before. Common practice, no source. */
const OVER_AT = 5

/**
 * The date of the evening, "2031-05-04".
 * @param at ms since 1970. @param offset minutes that local time is ahead of UTC
 */
export const eveningOf = (at: number, offset: number): string =>
  new Date(at + (offset - OVER_AT * 60) * 60_000).toISOString().slice(0, 10)

/** "21:04" of a moment, in local time. */
export const timeText = (at: number, offset: number): string =>
  new Date(at + offset * 60_000).toISOString().slice(11, 16)

/** “0.4 s”, “12 s”, “3 min”. */
export function secondsText(ms: number): string {
  const s = ms / 1000
  return s < 10 ? `${s.toFixed(1)} s` : s < 120 ? `${Math.round(s)} s` : `${Math.round(s / 60)} min`
}
