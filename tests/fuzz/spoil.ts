// Ways to spoil what was whole: JSON values, texts and bytes, changed in a few places by a seed.

const pick = <T>(items: readonly T[], next: () => number): T => items[Math.floor(next() * items.length)]!

/** Values that programs forget. Those of JSON alone. */
function oddValue(next: () => number): unknown {
  return pick<() => unknown>(
    [
      () => null,
      () => true,
      () => 0,
      () => -1,
      () => 0.5,
      () => 1e308,
      () => -1e-320,
      () => 2 ** 53,
      () => Math.floor((next() - 0.5) * 1e6),
      () => '',
      () => '__proto__',
      () => 'constructor',
      () => '../../etc/passwd',
      () => '\u0000\ud800\uffff',
      () => 'x'.repeat(Math.floor(next() * 5000)),
      () => [],
      () => ({}),
      () => [[[[[[[[]]]]]]]],
      () => JSON.parse('{"__proto__": {"polluted": 1}}'),
      () => nested(Math.floor(next() * 3000)),
      () => Array.from({ length: Math.floor(next() * 2000) }, () => 1),
      () => Object.fromEntries(Array.from({ length: Math.floor(next() * 500) }, (_, i) => [`k${i}`, i])),
    ],
    next,
  )()
}

function nested(depth: number): unknown {
  let value: unknown = 1
  for (let i = 0; i < depth; i++) value = i % 2 === 0 ? [value] : { a: value }
  return value
}

type Holder = Record<string, unknown> | unknown[]
const isHolder = (value: unknown): value is Holder => typeof value === 'object' && value !== null

/** A copy of a JSON value with some fields changed, gone, doubled or moved elsewhere. */
export function spoiltJson(value: unknown, next: () => number): unknown {
  if (next() < 0.02) return oddValue(next)
  const copy = structuredClone(value)
  const holders: Holder[] = []
  const gather = (node: unknown): void => {
    if (!isHolder(node)) return
    holders.push(node)
    for (const item of Object.values(node)) gather(item)
  }
  gather(copy)
  for (let n = 1 + Math.floor(next() * 4); n > 0 && holders.length > 0; n--) {
    const holder = pick(holders, next)
    const key = pick(Object.keys(holder), next)
    const dice = next()
    if (dice < 0.15 && key !== undefined) Reflect.deleteProperty(holder, key)
    else if (dice < 0.3)
      Reflect.set(holder, pick(['x', '', 'version', 'id', '0', 'toString'], next), oddValue(next))
    else if (dice < 0.45 && key !== undefined) {
      // From elsewhere in the same value: right in itself, and wrong here.
      const from = pick(holders, next)
      Reflect.set(holder, key, structuredClone(pick(Object.values(from), next)))
    } else if (dice < 0.6 && key !== undefined && typeof Reflect.get(holder, key) === 'number') {
      const was = Reflect.get(holder, key) as number
      Reflect.set(holder, key, pick([was + 1, was - 1, -was, was * 1000, was + 0.5], next))
    } else if (key !== undefined) Reflect.set(holder, key, oddValue(next))
  }
  return copy
}

/** A text with pieces cut, doubled or written over. */
export function spoiltText(text: string, next: () => number): string {
  let out = text
  for (let n = 1 + Math.floor(next() * 3); n > 0; n--) {
    const at = Math.floor(next() * out.length)
    const to = Math.min(out.length, at + Math.floor(next() * 40))
    const dice = next()
    if (dice < 0.3) out = out.slice(0, at) + out.slice(to)
    else if (dice < 0.5) out = out.slice(0, at)
    else if (dice < 0.7) out = out.slice(0, to) + out.slice(at)
    else
      out =
        out.slice(0, at) +
        pick(['"', '{', '[', '}', '\\', '\u0000', '<', '&x;', '\ufeff', ',', '1e999'], next) +
        out.slice(to)
  }
  return out
}

/** Bytes with some set, cut, doubled or put in; now and then nothing but chance. */
export function spoiltBytes(bytes: Uint8Array, next: () => number): Uint8Array {
  if (next() < 0.05) return Uint8Array.from({ length: Math.floor(next() * 700) }, () => next() * 256)
  let out = Uint8Array.from(bytes)
  for (let n = 1 + Math.floor(next() * 5); n > 0; n--) {
    const at = Math.floor(next() * out.length)
    const dice = next()
    if (dice < 0.6) out[at] = pick([0, 1, 0x7f, 0x80, 0xff, Math.floor(next() * 256)], next)
    else if (dice < 0.7) out = out.slice(0, at)
    else if (dice < 0.85)
      out = Uint8Array.from([...out.slice(0, at), ...out.slice(Math.floor(next() * out.length))])
    else out = out.slice(at)
  }
  return out
}
