// What a draft has that a version has not, in words a musician reads: by song, and by group of what else a show holds.

import { counted, listText } from '../advice/words.ts'
import { lengthText } from '../paper/words.ts'
import { songSeconds } from '../set/steps.ts'
import { sameValue } from '../show/diff.ts'
import type { Documents } from '../show/edits/edit.ts'
import type { Show } from '../show/schema.ts'
import { kitChanges } from './kit-changes.ts'
import { songChanges } from './song-changes.ts'
import { fieldsOf, type Group, groups } from './take.ts'

/** Changes that are taken together. */
export interface VersionChange {
  readonly of: { readonly song: string } | { readonly group: Group }
  /** “Slow Ferry”, “Looks and colours”. */
  readonly title: string
  /** At least one line. */
  readonly says: readonly string[]
}

export const groupNames: Readonly<Record<Group, string>> = {
  looks: 'Looks and colours',
  kit: 'Kit, parts and patch',
  set: 'Set list and pedals',
  rest: 'Name and output',
}

/** All that differs; none exactly when the documents are equal. Costs what the difference costs. */
export function changesBetween(before: Documents, after: Documents): VersionChange[] {
  const ids = [...after.show.songOrder, ...before.show.songOrder.filter(id => !after.show.songs[id])]
  const songs = ids.flatMap((song): VersionChange[] => {
    const says = songSays(before.show, after.show, song)
    const { title } = (after.show.songs[song] ?? before.show.songs[song])!
    return says.length > 0 ? [{ of: { song }, title, says }] : []
  })
  const rest = groups.flatMap((group): VersionChange[] => {
    const says = groupSays(group, before, after)
    return says.length > 0 ? [{ of: { group }, title: groupNames[group], says }] : []
  })
  return [...songs, ...rest]
}

/** How many lines they have together. */
export const changeCount = (changes: readonly VersionChange[]): number =>
  changes.reduce((sum, { says }) => sum + says.length, 0)

function songSays(before: Show, after: Show, song: string): readonly string[] {
  const [was, is] = [before.songs[song], after.songs[song]]
  if (was && is) return songChanges(was, is)
  if (!is) return ['Song removed']
  return [
    `Song added, ${counted(is.sectionOrder.length, 'section')}, ${lengthText(songSeconds(after, song))}`,
  ]
}

function groupSays(group: Group, before: Documents, after: Documents): string[] {
  const [was, is] = [before.show, after.show]
  const says = wordsOf[group](before, after)
  const differs =
    (group === 'kit' && !sameValue(before.rig, after.rig)) ||
    fieldsOf(group, was, is).some(field => !sameValue(was[field], is[field]))
  return differs && says.length === 0 ? ['Changed'] : says
}

const wordsOf: Readonly<Record<Group, (before: Documents, after: Documents) => string[]>> = {
  looks: ({ show: was }, { show: is }) => [
    ...recordSays('Look', was.looks, is.looks),
    ...recordSays('Colour', was.swatches, is.swatches),
  ],
  kit: kitChanges,
  set: ({ show: was }, { show: is }) => [
    ...(was.tonightList === is.tonightList
      ? []
      : [
          is.tonightList === undefined
            ? 'Tonight all songs in their order'
            : `Tonight “${is.setLists[is.tonightList]!.name}”`,
        ]),
    ...recordSays('Set list', was.setLists, is.setLists, (a, b) =>
      a.songs.length === b.songs.length
        ? ''
        : `, ${counted(b.songs.length, 'song')} and not ${a.songs.length}`,
    ),
    ...(sameValue(common(was, is), common(is, was)) ? [] : ['Songs in another order']),
    ...(sameValue(was.triggers, is.triggers) ? [] : ['Pedals and keys changed']),
    ...(sameValue(was.osc, is.osc) ? [] : ['Where Open Sound Control is heard']),
  ],
  rest: ({ show: was }, { show: is }) => [
    ...(was.name === is.name ? [] : [`The show is called “${is.name}”, was “${was.name}”`]),
    ...(sameValue(was.output, is.output) ? [] : ['Output changed']),
  ],
}

/** The order of a show's songs that the other one has too. */
const common = (show: Show, other: Show): string[] => show.songOrder.filter(id => other.songs[id])

/** A line for what was added, what was changed (each), what was removed. */
function recordSays<T extends { readonly name: string }>(
  noun: string,
  was: Readonly<Record<string, T>>,
  is: Readonly<Record<string, T>>,
  more: (was: T, is: T) => string = () => '',
): string[] {
  if (was === is) return []
  const named = (items: readonly T[]) => listText(items.map(({ name }) => `“${name}”`))
  const added = Object.keys(is).filter(id => !was[id])
  const gone = Object.keys(was).filter(id => !is[id])
  const changed = Object.keys(is).filter(id => was[id] && !sameValue(was[id], is[id]))
  return [
    ...(added.length > 0 ? [`${noun} ${named(added.map(id => is[id]!))} added`] : []),
    ...changed.map(id => {
      const [a, b] = [was[id]!, is[id]!]
      return a.name === b.name
        ? `${noun} “${b.name}” changed${more(a, b)}`
        : `${noun} “${b.name}”, was “${a.name}”${more(a, b)}`
    }),
    ...(gone.length > 0 ? [`${noun} ${named(gone.map(id => was[id]!))} removed`] : []),
  ]
}
