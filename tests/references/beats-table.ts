// Writes docs/beats.md: how well beats are found in every recording whose beats are known. `npm run beats`

import { writeFileSync } from 'node:fs'
import { hasLoops, hasSongs, loopBeats, loops, playedSong, songNames } from './beat-audio.ts'
import { type BeatRow, beatRow } from './beat-rows.ts'

const SECONDS = 30

if (!hasLoops() || !hasSongs()) {
  throw new Error('apt-get install sonic-pi-samples fluidsynth timgm6mb-soundfont openttd-openmsx')
}

const mean = (values: readonly number[]) => values.reduce((sum, v) => sum + v, 0) / values.length
const percent = (share: number) => `${Math.round(share * 100)} %`
const factors: Record<string, string> = { '1': '1', '2': '2', '0.5': '1/2', '3': '3' }
const factorName = (factor: number | null) => (factor === null ? '**wrong**' : `×${factors[factor] ?? '1/3'}`)

function table(rows: readonly BeatRow[]): string {
  const lines = rows.map(({ name, truth, found, factor, f, best }) =>
    [
      name,
      truth.toFixed(1),
      found?.toFixed(1) ?? 'none',
      factorName(factor),
      f.toFixed(2),
      best.toFixed(2),
    ].join(' | '),
  )
  const right = (test: (row: BeatRow) => boolean) => `${rows.filter(test).length} of ${rows.length}`
  return `Tempo right within 4 %: ${right(row => row.factor === 1)} as found, ${right(row => row.factor !== null)} with
metrical factors. Mean F-measure ${mean(rows.map(row => row.f)).toFixed(2)} as found, ${mean(rows.map(row => row.best)).toFixed(2)} after half, double or a
beat's shift was chosen; ${percent(rows.filter(row => row.best >= 0.9).length / rows.length)} of the files reach 0.9 then.

| file | BPM | found | factor | F | F, rate chosen |
| --- | --- | --- | --- | --- | --- |
${lines.map(line => `| ${line} |`).join('\n')}
`
}

const loopRows = (await loops(Object.keys(loopBeats), SECONDS)).map(beatRow)
const songRows: BeatRow[] = []
for (const name of songNames()) songRows.push(beatRow(playedSong(name, SECONDS)))

writeFileSync(
  new URL('../../docs/beats.md', import.meta.url),
  `# How well beats are found

Written by \`npm run beats\`; failures are in it. The beats come from music-tempo 1.0.3, 30 s of each file.

- F: F-measure of beats at ±70 ms, the first 5 s left out (Davies, Degara and Plumbley, "Evaluation methods for musical
  audio beat tracking algorithms", QMUL technical report C4DM-09-06, 2009).
- factor: by which the tempo is right within 4 % (Gouyon and others, "An experimental comparison of audio tempo induction
  algorithms", IEEE TASLP 14(5), 2006).
- "F, rate chosen": what is left after the one choice the page offers: ×½, ×1, ×2.

## Loops (Debian's sonic-pi-samples), repeated

The tempo is beats a loop by its length. How many beats each has is our reading; the package does not say.

${table(loopRows)}
## Songs (MIDI files of Debian's openttd-openmsx, played by fluidsynth with timgm6mb-soundfont)

The beats are the quarter notes of the file's tempo map. Where a file is written at half or double the tempo that is felt,
the factor says so.

${table(songRows)}`,
)
