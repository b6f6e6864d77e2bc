// How far a cable reaches on the plan: worked by hand on right triangles.

import { reachOf } from '@glowchart/shared/rig/reach.ts'
import { describe, expect, it } from 'vitest'

describe('the way of a cable', () => {
  const box = { x: -1, y: 2, z: 0 }

  it('goes along the floor until it is below the light, then up to it', () => {
    const { run, rise, slack } = reachOf(box, { x: 2, y: 6, z: 2.5 }, 9)
    expect(run).toBeCloseTo(5, 12)
    expect(rise).toBe(2.5)
    expect(slack).toBeCloseTo(1.5, 12)
  })

  it('has a slack below zero where the cable is too short', () => {
    expect(reachOf(box, { x: 2, y: 6, z: 2.5 }, 7).slack).toBeCloseTo(-0.5, 12)
  })

  it('counts from the height of a box that stands on something', () => {
    expect(reachOf({ ...box, z: 1 }, { x: -1, y: 2, z: 0 }, 2).slack).toBe(1)
  })
})
