// The keys of the line check, as the list of keys shows them.

export const checkKeyList: readonly (readonly [string, string])[] = [
  ['Space', 'pass, and on to the next; a keyboard-type pedal too'],
  ['X', 'fail'],
  ['R  G  B  W', 'raise that channel; A: all of them'],
  ['S', 'step the channels by itself, or not'],
  ['←  →', 'the socket before, after'],
  ['U', 'take back the last pass or fail, for ten seconds'],
  ['P', 'glow for plugging up'],
  ['Esc', 'leave the questions; end the check'],
  ['?', 'this list'],
]
