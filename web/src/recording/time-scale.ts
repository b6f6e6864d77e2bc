// How a place in the recording is said, typed and stepped: seconds, to the ms.

const MOST = 24 * 3600
const held = (seconds: number): number => Math.round(Math.min(MOST, Math.max(-3600, seconds)) * 1000) / 1000

/** "1:23.456", or "12.345 s" under a minute. */
export function secondsText(seconds: number): string {
  const sign = seconds < 0 ? '−' : ''
  const whole = Math.abs(held(seconds))
  const minutes = Math.floor(whole / 60)
  const rest = (whole - minutes * 60).toFixed(3)
  return minutes > 0 ? `${sign}${minutes}:${rest.padStart(6, '0')}` : `${sign}${rest} s`
}

/** For `Figure`: a step is a ms. */
export const timeScale = {
  first: 0,
  text: secondsText,
  number: (seconds: number) => seconds,
  parse(text: string): number | null {
    const read = /^([-−])?(?:(\d+):)?(\d+(?:[.,]\d*)?|[.,]\d+)\s*s?$/.exec(text)
    if (!read) return null
    const seconds = Number(read[2] ?? 0) * 60 + Number(read[3]!.replace(',', '.'))
    return held(read[1] ? -seconds : seconds)
  },
  step: (seconds: number, n: number) => held(seconds + n / 1000),
}
