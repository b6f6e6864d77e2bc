// A player on the sample song, made lively: a chase over its first bars, and a cue at its end.

import { createPlayer, type Piece, type Player } from '@glowchart/server/engine/player.ts'
import { compileSong } from '@glowchart/shared/render/compile.ts'
import { levelPlan } from '@glowchart/shared/render/levels.ts'
import { sampleShow } from '../advice/sampleShow.ts'

export const RATE = 40
export const BAR = 3840

/** The sample song with a chase over the first bars and a vamp in the middle. */
export function livelyShow() {
  const { rig, show } = sampleShow()
  const { verse, end } = show.songs.song!.sections
  verse!.cues.first!.light = {
    level: 1,
    colours: {
      along: 'part',
      stops: [
        { at: 0, colour: { hex: '#ff4000' } },
        { at: 1, colour: { hex: '#0040ff' } },
      ],
    },
    motion: {
      kind: 'chase',
      rate: { ticks: 1920 as never },
      spread: 1,
      direction: 'forward',
      duty: 0.4,
      shape: 0.6,
      floor: 0.1,
      by: 'fixture',
      seed: 0,
    },
  }
  end!.cues.last = { ...verse!.cues.second!, at: 0 as never, length: BAR as never, track: 'high' }
  return { rig, show }
}

export function pieceOf({ rig, show }: ReturnType<typeof livelyShow>, revision = 1): Piece {
  return {
    song: 'song',
    revision,
    compiled: compileSong(rig, show, 'kit', 'song'),
    plan: levelPlan(rig, show.kits.kit!),
  }
}

export function playerOn(piece = pieceOf(livelyShow()), at = 0): Player {
  const player = createPlayer(RATE)
  player.take(piece, 0, at)
  return player
}
