// What a hand or a foot can ask for in a show; what it does depends on where the set is (see `deed.ts`).

import { z } from 'zod'
import { id } from '../show/fields.ts'

export const actionSchema = z.discriminatedUnion('do', [
  /** Whatever comes next: start, leave the vamp, once more, the next song. */
  z.object({ do: z.literal('next') }),
  z.object({ do: z.literal('back') }),
  /** Stops the song; the look is held. */
  z.object({ do: z.literal('stop') }),
  /** Repeats the section that sounds until it is pressed again; leaves a vamp. */
  z.object({ do: z.literal('repeat') }),
  z.object({ do: z.literal('sectionOn') }),
  z.object({ do: z.literal('sectionBack') }),
  /** Makes the next or the previous song of the set ready, without starting it. */
  z.object({ do: z.literal('songOn') }),
  z.object({ do: z.literal('songBack') }),
  z.object({ do: z.literal('song'), song: id }),
  z.object({ do: z.literal('section'), section: id }),
  /** One tap of the tempo, on our own clock. */
  z.object({ do: z.literal('tapTempo') }),
  /** Song and light a little later or earlier against the band, on our own clock. */
  z.object({ do: z.literal('nudgeOn') }),
  z.object({ do: z.literal('nudgeBack') }),
  /** The house look. */
  z.object({ do: z.literal('house') }),
  z.object({ do: z.literal('strobeStop') }),
  /** The grand master, or the master of a part, up or down by a step (a share of its whole way). */
  z.object({ do: z.literal('master'), by: z.number().min(-1).max(1), part: id.optional() }),
  /** While held. */
  z.object({ do: z.literal('blackout') }),
  /** While held: the part at full white. */
  z.object({ do: z.literal('bump'), part: id }),
])
export type Action = z.infer<typeof actionSchema>

/** Actions that last as long as they are held. */
export const isHeld = (action: Action): boolean => action.do === 'blackout' || action.do === 'bump'

/** What one press moves a master by; ten presses from full to dark (our choice). */
export const MASTER_STEP = 0.1
