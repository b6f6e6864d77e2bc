// Which key is meant, on keyboards of other layouts and scripts. Layouts as Linux and Windows have them, from memory.

import { isCommand, keyMeant } from '@glowchart/web/ui/typing.ts'
import { expect, test } from 'vitest'

const held = { ctrlKey: false, metaKey: false, altKey: false }

test('letters of another script stand for those at their places, letters of Latin layouts for themselves', () => {
  expect(keyMeant({ key: 'я', code: 'KeyZ' })).toBe('z')
  expect(keyMeant({ key: 'Я', code: 'KeyZ' })).toBe('z')
  expect(keyMeant({ key: 'β', code: 'KeyB' })).toBe('b')
  expect(keyMeant({ key: 'х', code: 'BracketLeft' })).toBe('[')
  // A German and a French keyboard.
  expect(keyMeant({ key: 'Z', code: 'KeyY' })).toBe('z')
  expect(keyMeant({ key: 'a', code: 'KeyQ' })).toBe('a')
  expect(keyMeant({ key: 'ö', code: 'Semicolon' })).toBe('ö')
  expect(keyMeant({ key: 'ArrowUp', code: 'ArrowUp' })).toBe('ArrowUp')
})

test('a sign behind AltGr or Option is a sign, a letter with Alt or Ctrl a command', () => {
  expect(isCommand({ ...held, key: '[', ctrlKey: true, altKey: true })).toBe(false)
  expect(isCommand({ ...held, key: ']', altKey: true })).toBe(false)
  expect(isCommand({ ...held, key: 'l', altKey: true })).toBe(true)
  expect(isCommand({ ...held, key: 'ArrowUp', altKey: true })).toBe(true)
  expect(isCommand({ ...held, key: '-', ctrlKey: true })).toBe(true)
  expect(isCommand({ ...held, key: 'l' })).toBe(false)
})
