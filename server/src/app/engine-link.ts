// What the app needs of the engine: a way to tell it things, to ask it for things, and to hear from it.

import type { Problem } from '@glowchart/shared/errors.ts'
import type { FromEngine, ToEngine } from '@glowchart/shared/messages.ts'

type WithoutId<M> = M extends { id: number } ? Omit<M, 'id'> : never
/** A message that the engine answers; the link numbers it. */
export type EngineRequest = WithoutId<ToEngine>

/** The engine lives in another process, which may be gone at any moment and come back. */
export interface EngineLink {
  /** Sent if the engine is there, else dropped: on `up` the app sends everything again. */
  send(message: ToEngine): void
  /** Resolves with what was wrong, or with nothing once the engine has done it. Never rejects. */
  request(message: EngineRequest): Promise<Problem | undefined>
  /**
   * Calls `listener` with everything the engine says, and with `up` (at once, if it is up) and `down`.
   * The bytes of a frame must not be written to afterwards. Returns what ends the listening.
   */
  on(listener: (message: FromEngine | { type: 'up' } | { type: 'down' }) => void): () => void
}
