// All fuzzed areas by name.

import type { Area } from './area.ts'
import { editArguments, journals, migrations, showFiles } from './documents.ts'
import { gdtfFiles, midiFiles, recordings } from './files.ts'
import { httpBodies, liveSocket } from './requests.ts'
import { midiBytes, network, osc, pipe } from './wires.ts'

export const areas: Readonly<Record<string, () => Promise<Area>>> = {
  'show files': showFiles,
  migrations,
  'edits with odd arguments': editArguments,
  'the journal of edits': journals,
  'MIDI files': midiFiles,
  'GDTF files': gdtfFiles,
  'recordings and timed bytes': recordings,
  'MIDI bytes and time code': midiBytes,
  OSC: osc,
  'ArtPollReply, incoming Art-Net and sACN': network,
  'the pipe between our processes': pipe,
  'the live socket': liveSocket,
  'HTTP requests': httpBodies,
}
