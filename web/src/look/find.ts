// Finding a look by its name: the key that goes there, and what a few letters of a name find.

import { reach } from '../chart/reach.ts'
import { clearChoice } from '../document/choice.ts'
import { closeIntake } from '../intake/open.ts'
import { dropLook } from './naming.ts'

/** Brings the looks to the side, and the keys to the field that finds one. */
export function toLooks(): void {
  closeIntake()
  dropLook()
  clearChoice()
  reach('looks', null, 'There is no look yet.')
}

/** Those whose name has the letters in it, in their order; first those that begin with them. */
export function foundBy<T extends { readonly name: string }>(
  letters: string,
  looks: readonly (readonly [string, T])[],
): (readonly [string, T])[] {
  const wanted = letters.trim().toLocaleLowerCase()
  const at = ([, { name }]: readonly [string, T]) => name.toLocaleLowerCase().indexOf(wanted)
  return [...looks.filter(look => at(look) === 0), ...looks.filter(look => at(look) > 0)]
}
