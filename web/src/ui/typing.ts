// Whether a key is meant for a field that is typed into.

export function isTyping(target: EventTarget | null): boolean {
  if (target instanceof HTMLInputElement) return target.type !== 'range' && target.type !== 'radio'
  return target instanceof HTMLTextAreaElement || target instanceof HTMLSelectElement
}
