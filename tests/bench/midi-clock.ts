// Bench: the MIDI clock follower's phase error and time to lock over synthetic clocks, against the clocks' own jitter.

import { clockCases, clockRow, clockTable, jitters } from '../support/clock-report.ts'

/** Of chance; the test of the same figures takes more. */
const SEEDS = 2

const rows = jitters.flatMap(jitter => clockCases.map(of => clockRow(of, jitter, SEEDS)))
console.log(`## Following a MIDI clock

Synthetic pulse trains, ${SEEDS} seeds a row. Baseline: the jitter of the pulses themselves; "/ jitter" is the RMS of the position
given out over the RMS of the jitter put in.

\`\`\`
${clockTable(rows)}
\`\`\``)
