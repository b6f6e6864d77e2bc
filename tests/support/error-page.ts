// Writes docs/errors.md from the one list of error codes: `node --import tsx tests/support/error-page.ts`.

import { writeFileSync } from 'node:fs'
import { remedies } from '@glowchart/shared/errors.ts'

const rows = Object.entries(remedies).map(([code, remedy]) => `| \`${code}\` | ${remedy} |`)
const page = `# Error codes

Every error that Glowchart answers with has a code. Beside it stand what was wrong and where; this is what to do.
Whoever gets one can be sure that nothing was changed.

| code | what to do |
|---|---|
${rows.join('\n')}
`
writeFileSync(new URL('../../docs/errors.md', import.meta.url), page)
