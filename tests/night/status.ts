// A status as the engine tells it, for tests: nothing plays, nothing is sent; a test changes what it is about.

import type { EngineStatus } from '@glowchart/shared/messages.ts'
import { freshLive } from '@glowchart/shared/render/live.ts'
import { noUnderstudy } from '@glowchart/shared/understudy/status.ts'

export const quiet: EngineStatus = {
  understudy: noUnderstudy,
  at: 0,
  pid: 100,
  revision: 1,
  version: null,
  song: null,
  look: null,
  place: null,
  playing: false,
  starts: null,
  position: 0,
  bpm: 120,
  speed: 1,
  loop: null,
  repeated: null,
  released: null,
  clock: { source: 'internal', lock: 'internal', bpm: 120, estimated: false, jitter: 0 },
  live: freshLive(),
  strobesHeld: false,
  house: { grand: 1, blackout: false, state: 'off', source: '', says: '' },
  osc: { port: 0, says: '', heard: null },
  check: 'off',
  frames: { rate: 40, rendered: 1000, late: 0, skipped: 0, errorP50: 0, errorP99: 0, errorMax: 0 },
  outputs: [],
  midi: {
    available: true,
    ports: [],
    outputs: [],
    says: '',
    clockPort: null,
    speaking: [],
    choice: { clockFrom: null, clockTo: null },
  },
}

/** 20:00 UTC on an evening, ms since 1970. */
export const EIGHT = Date.UTC(2031, 4, 4, 20)
