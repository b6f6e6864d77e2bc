// Renders the frame of a heartbeat again, from the documents held here, and says whether the bytes are the same.

import { crc32 } from 'node:zlib'
import type { Beat, Comparison } from '@glowchart/shared/understudy/beat.ts'
import { type Canvas, canvasFor, drawPicture } from '../engine/picture.ts'
import type { Piece } from '../engine/player.ts'

const unknown = (says: string): Comparison => ({ state: 'unknown', says })

export function comparer(): (beat: Beat, piece: Piece | null, content: string) => Comparison {
  let canvas: Canvas | null = null
  return (beat, piece, content) => {
    const { song, look } = beat.transport
    if (beat.check !== 'off') return unknown('a line check is on there')
    if (song === null && look === null) return unknown('nothing stands there')
    if (beat.content === '' || content === '') return unknown('it is being edited')
    if (beat.content !== content) {
      return unknown(`version ${beat.content.slice(0, 8)} there, ${content.slice(0, 8)} here`)
    }
    if (!piece || piece.song !== song || (piece.look ?? null) !== look)
      return unknown('the song is being loaded')
    if (canvas?.piece !== piece) canvas = canvasFor(piece, canvas)
    const live = { ...beat.live, hold: beat.live.hold || !beat.moves }
    drawPicture(canvas, beat.from, beat.to, live, beat.house, beat.pace)
    const { universes } = piece.plan
    if (universes.length !== beat.levels.length) {
      return { state: 'differs', says: `${beat.levels.length} universes there, ${universes.length} here` }
    }
    for (const [i, universe] of universes.entries()) {
      const theirs = beat.levels[i]!
      const crc = crc32(canvas.levels.subarray(i * 512, i * 512 + 512))
      if (theirs.universe === universe && theirs.crc === crc) continue
      return { state: 'differs', says: `universe ${universe}, version ${content.slice(0, 8)}` }
    }
    return { state: 'step', says: 'in step' }
  }
}
