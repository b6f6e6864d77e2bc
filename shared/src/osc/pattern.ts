// Address patterns of Open Sound Control 1.0: whether one matches an address.

/**
 * `?` is any one character, `*` any number, `[a-z]` one of them (`[!a-z]` none), `{stop,next}` one of the words; none of
 * them matches a slash (OSC 1.0, message dispatching). Takes time that grows with the lengths' product at most, however
 * many stars a stranger sends.
 */
export function matchesPattern(pattern: string, address: string): boolean {
  if (!/[?*[{]/.test(pattern)) return pattern === address
  const patterns = pattern.split('/')
  const names = address.split('/')
  return patterns.length === names.length && patterns.every((one, i) => matchesName(one, names[i]!))
}

function matchesName(pattern: string, name: string): boolean {
  /** Places in the name that the pattern so far may end at. */
  let ends: readonly number[] = [0]
  for (let p = 0; p < pattern.length && ends.length > 0; ) {
    const step = readStep(pattern, p)
    if (!step) return false
    ends = step.ends(name, ends)
    p = step.next
  }
  return ends.at(-1) === name.length
}

/** One step of a pattern: from the places that were reached, rising, to those reached after it; and where the next begins. */
interface Step {
  ends(name: string, from: readonly number[]): readonly number[]
  readonly next: number
}

/** Null for a bracket that is not closed. */
function readStep(pattern: string, at: number): Step | null {
  const one = (next: number, fits: (char: string) => boolean): Step => ({
    next,
    ends: (name, from) => from.filter(i => i < name.length && fits(name[i]!)).map(i => i + 1),
  })
  const close = (bracket: string): number => pattern.indexOf(bracket, at)
  switch (pattern[at]) {
    case '?':
      return one(at + 1, () => true)
    case '*':
      return {
        next: at + 1,
        ends: (name, [first = 0]) => Array.from({ length: name.length - first + 1 }, (_, i) => first + i),
      }
    case '[': {
      if (close(']') < 0) return null
      const not = pattern[at + 1] === '!'
      const set = pattern.slice(at + (not ? 2 : 1), close(']'))
      return one(close(']') + 1, char => inSet(set, char) !== not)
    }
    case '{': {
      if (close('}') < 0) return null
      const words = pattern.slice(at + 1, close('}')).split(',')
      return {
        next: close('}') + 1,
        ends: (name, from) => {
          const all = from.flatMap(i =>
            words.filter(word => name.startsWith(word, i)).map(word => i + word.length),
          )
          return [...new Set(all)].sort((a, b) => a - b)
        },
      }
    }
    default:
      return one(at + 1, char => char === pattern[at])
  }
}

/** A minus between two characters is a range; at the end it is itself (OSC 1.0). */
function inSet(set: string, char: string): boolean {
  for (let i = 0; i < set.length; i++) {
    const last = set[i + 2]
    if (set[i + 1] === '-' && last !== undefined) {
      if (set[i]! <= char && char <= last) return true
      i += 2
    } else if (set[i] === char) return true
  }
  return false
}
