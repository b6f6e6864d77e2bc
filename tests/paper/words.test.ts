// Lengths, tapes and badges as sheets write them.

import { demoBundle } from '@glowchart/server/demo/demo.ts'
import {
  badgesOf,
  bpmText,
  feetText,
  lengthText,
  metresText,
  tapeWord,
} from '@glowchart/shared/paper/words.ts'
import { describe, expect, it } from 'vitest'

describe('lengths on paper', () => {
  it('are metres to the centimetre, and feet and inches by the international foot of 0.3048 m', () => {
    expect(metresText(2.35)).toBe('2.35 m')
    expect(metresText(3)).toBe('3 m')
    expect(feetText(0.3048)).toBe('1 ft')
    expect(feetText(2.35)).toBe('7 ft 9 in')
    expect(feetText(3.64)).toBe('11 ft 11 in')
    expect(feetText(0.04)).toBe('1.6 in')
    expect(feetText(-1.5)).toBe('−4 ft 11 in')
  })

  it('say times in minutes and seconds, and tempi without needless fractions', () => {
    expect(lengthText(222.6)).toBe('3:43')
    expect(lengthText(59.7)).toBe('1:00')
    expect(bpmText(118)).toBe('118')
    expect(bpmText(117.5)).toBe('117.5')
  })
})

describe('the word for a tape', () => {
  // The basic colour keywords of CSS Color 4 (section 6.1), as anyone would ask for them in a shop.
  it.each([
    ['#000000', 'black'],
    ['#ffffff', 'white'],
    ['#808080', 'grey'],
    ['#ff0000', 'red'],
    ['#ffa500', 'orange'],
    ['#ffff00', 'yellow'],
    ['#008000', 'green'],
    ['#00ff00', 'green'],
    ['#40e0d0', 'turquoise'],
    ['#0000ff', 'blue'],
    ['#ee82ee', 'pink'],
    ['#8a2be2', 'violet'],
    ['#ffc0cb', 'pink'],
    ['#8b4513', 'brown'],
  ])('for %s is %s', (hex, word) => {
    expect(tapeWord(hex)).toBe(word)
  })
})

describe('badges', () => {
  it('take the letter in the name, or the first one', () => {
    const { rig, show } = demoBundle()
    expect(badgesOf(rig, show.kits.full!)).toEqual({ left: 'A', right: 'B' })
    expect(badgesOf(rig, show.kits.fly!)).toEqual({ fly: 'F' })
  })

  it('are never shared by two boxes of a kit', () => {
    const { rig, show } = demoBundle()
    const same = { ...rig, boxes: { ...rig.boxes, right: { ...rig.boxes.right!, name: 'Another A' } } }
    const badges = Object.values(badgesOf(same, show.kits.full!))
    expect(new Set(badges).size).toBe(badges.length)
  })
})
