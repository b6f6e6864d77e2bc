// Earlier versions of a document: which are kept, under which names.

/** As many as are kept whatever their age. */
const NEWEST = 20
/** Hours of which the last version is kept. */
const HOURS = 240

/** The name of a version by the time it was replaced, ms since 1970: "2031-05-04T19-30-00.000Z.json". */
export const versionName = (time: number): string =>
  `${new Date(time).toISOString().replaceAll(':', '-')}.json`

const namePattern = /^(\d{4}-\d\d-\d\dT\d\d)-\d\d-\d\d\.\d{3}Z\.json$/

/** The versions among the names in a folder, newest first. */
export const versionsIn = (names: readonly string[]): string[] =>
  names.filter(name => namePattern.test(name)).sort((a, b) => (a < b ? 1 : -1))

/** ms since 1970 of a version's name. */
export const versionTime = (name: string): number =>
  Date.parse(name.slice(0, -5).replace(/T(\d\d)-(\d\d)-/, 'T$1:$2:'))

/** Which versions (newest first) go: all but the newest twenty and the last of each hour before. */
export function superfluous(versions: readonly string[]): string[] {
  const hours = new Set<string>()
  return versions.filter((name, i) => {
    if (i < NEWEST) return false
    const hour = namePattern.exec(name)![1]!
    const keep = !hours.has(hour) && hours.size < HOURS
    if (keep) hours.add(hour)
    return !keep
  })
}
