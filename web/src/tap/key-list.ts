// How the key list names the keys that tap in.

export const tapKeyList: readonly (readonly [string, string])[] = [
  ['R', 'tap in: count in and arm the chosen part or look'],
  ['T, armed', 'tap: short for a hit, held for a cue with length'],
  ['1 … 9, armed', 'tap on a part, counted from the top'],
  ['Enter, Esc', 'keep the taps, drop them'],
]
