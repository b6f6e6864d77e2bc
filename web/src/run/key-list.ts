// The keys of the run page, as the list of keys shows them.

export const runKeyList: readonly (readonly [string, string])[] = [
  ['Run: Space', 'next (guarded: hold it, or G first)'],
  ['Run: Backspace', 'back'],
  ['Run: S', 'stop, the look is held'],
  ['Run: R', 'repeat the section, leave the repeat'],
  ['Run: [  ]', 'a section back, on'],
  ['Run: ,  .', 'the song before, after'],
  ['Run: T', 'tap the tempo'],
  ['Run: ←  →', 'nudge the song back, on by 20 ms'],
  ['Run: ↑  ↓', 'grand master up, down by 10 %'],
  ['Run: H', 'house look'],
  ['Run: X', 'stop the strobes, let them flash'],
  ['Run: 1 to 9', 'bump of a part, while held'],
  ['Run: B', 'hold for blackout, press to restore'],
  ['Run: L', 'release the house’s desk, once it is lost'],
  ['Run: G', 'lift the guard, put it on'],
  ['Run: D', 'dim the screen'],
  ['Run: M', 'more: sections, parts'],
]
