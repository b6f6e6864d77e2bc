// Opens the chart of a song with all advice on it at the side.

import { useSession } from '../document/session.ts'

export function openAdvice(song: string): void {
  useSession.setState({ song, showsAdvice: true })
  location.hash = 'chart'
}
