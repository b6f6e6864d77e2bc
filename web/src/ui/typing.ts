// What a key is meant for: a field that is typed into, or the page, and there a letter, a sign or a command.

/** Inputs whose keys, those that press or move them aside, type nothing. */
const untyped = new Set(['range', 'radio', 'checkbox', 'button', 'file', 'color'])

/** Whether a key is meant for a field that is typed into. */
export function isTyping(target: EventTarget | null): boolean {
  if (target instanceof HTMLInputElement) return !untyped.has(target.type)
  return target instanceof HTMLTextAreaElement || target instanceof HTMLSelectElement
}

/** What Space presses when it was reached by keyboard, and what Enter belongs to. */
export const pressable = 'button, a, summary, input:not([type="range"])'

/** Signs that the keys of another script's letters bear on most keyboards. */
const signs: Readonly<Record<string, string>> = {
  BracketLeft: '[',
  BracketRight: ']',
  Comma: ',',
  Period: '.',
  Slash: '/',
}

/** The key that is meant: letters small, and where the layout is of another script, what most keyboards have there. */
export function keyMeant({ key, code }: Pick<KeyboardEvent, 'key' | 'code'>): string {
  if (key.length !== 1) return key
  const isForeign = /\p{L}/u.test(key) && !/\p{Script=Latin}/u.test(key)
  const letter = /^Key([A-Z])$/.exec(code)?.[1]
  return ((isForeign && (letter ?? signs[code])) || key).toLowerCase()
}

/**
 * Whether Ctrl, Alt or ⌘ is held for a command, and not to type a sign: many keyboards have [ behind AltGr, which some
 * systems tell as Ctrl and Alt, or behind Option.
 */
export function isCommand({
  key,
  ctrlKey,
  metaKey,
  altKey,
}: Pick<KeyboardEvent, 'key' | 'ctrlKey' | 'metaKey' | 'altKey'>): boolean {
  if (altKey && key.length === 1 && /[^\p{L}\p{N}\s]/u.test(key)) return false
  return ctrlKey || metaKey || altKey
}
