// Who drives the light: the role of each laptop, event by event.

import {
  type Duty,
  type DutyEvent,
  goesBefore,
  isReady,
  LOSS,
  onDuty,
  startingDuty,
  TRUSTED,
} from '@glowchart/shared/understudy/duty.ts'
import { describe, expect, it } from 'vitest'

const beat = (at: number, more: Partial<Extract<DutyEvent, { what: 'beat' }>> = {}): DutyEvent => ({
  what: 'beat',
  at,
  term: 4,
  lift: 0,
  yields: false,
  sends: true,
  held: true,
  before: true,
  ...more,
})

/** Follows since 0 ms, its last heartbeat at 400 ms. */
function inStep(): Duty {
  let duty = startingDuty('follows', 4)
  for (let i = 0; i < TRUSTED; i++) ({ duty } = onDuty(duty, beat(i * 100)))
  return duty
}

describe('the one that follows', () => {
  it('takes over when more than three heartbeats are missing, under a higher term and above the priority of the other', () => {
    const duty = inStep()
    expect(isReady(duty)).toBe(true)
    expect(onDuty(duty, { what: 'tick', at: 400 + LOSS }).deed).toBeNull()
    const lost = onDuty(duty, { what: 'tick', at: 401 + LOSS })
    expect(lost.deed).toBe('takeOver')
    expect(lost.duty).toMatchObject({ role: 'leads', term: 5, lift: 1 })
  })

  it('goes above a leader that is lifted itself', () => {
    const { duty } = onDuty(inStep(), beat(500, { lift: 1 }))
    expect(onDuty(duty, { what: 'takeOver', at: 510 }).duty.lift).toBe(2)
  })

  it('does not take over what it never held, nor before it has heard enough', () => {
    let duty = startingDuty('follows', 4)
    for (let i = 0; i < 20; i++) ({ duty } = onDuty(duty, beat(i * 100, { held: false })))
    expect(onDuty(duty, { what: 'tick', at: 60_000 }).deed).toBeNull()
    const early = onDuty(startingDuty('follows', 4), beat(0)).duty
    expect(onDuty(early, { what: 'tick', at: 60_000 }).deed).toBeNull()
  })

  it('does not miss one whose output is off', () => {
    const { duty } = onDuty(inStep(), beat(500, { sends: false }))
    expect(onDuty(duty, { what: 'tick', at: 60_000 }).deed).toBeNull()
    expect(onDuty(duty, { what: 'takeOver', at: 60_000 }).deed).toBe('takeOver')
  })

  it('takes a sleep of its own for no loss, and a farewell for none either', () => {
    const { duty } = onDuty(inStep(), { what: 'woke', at: 30_000 })
    expect(onDuty(duty, { what: 'tick', at: 30_100 }).deed).toBeNull()
    expect(onDuty(duty, { what: 'tick', at: 30_001 + LOSS }).deed).toBe('takeOver')
    const parted = onDuty(inStep(), { what: 'bye' }).duty
    expect(onDuty(parted, { what: 'tick', at: 60_000 }).deed).toBeNull()
  })

  it('takes over when it is asked to, if it is ready', () => {
    expect(onDuty(inStep(), beat(500, { yields: true })).deed).toBe('takeOver')
    expect(onDuty(startingDuty('follows', 4), beat(500, { yields: true })).deed).toBeNull()
  })
})

describe('the one that leads', () => {
  it('falls silent before a higher term, and follows it', () => {
    const told = onDuty(startingDuty('leads', 4), beat(0, { term: 5, lift: 1 }))
    expect(told.deed).toBe('yield')
    expect(told.duty).toMatchObject({ role: 'follows', term: 5, lift: 0, trusted: 0 })
  })

  it('goes on before a lower one, and at a tie only one of the two goes on', () => {
    expect(onDuty(startingDuty('leads', 4), beat(0, { term: 3 })).deed).toBeNull()
    expect(onDuty(startingDuty('leads', 4), beat(0, { before: false })).deed).toBeNull()
    expect(onDuty(startingDuty('leads', 4), beat(0, { before: true })).deed).toBe('yield')
  })

  it('goes on at a tie when it sends light and the other none, whatever their ids; else the lower id goes on', () => {
    const sides = [
      { id: 'a', sends: true },
      { id: 'a', sends: false },
      { id: 'b', sends: true },
      { id: 'b', sends: false },
    ]
    for (const one of sides.slice(0, 2)) {
      for (const other of sides.slice(2)) {
        expect(goesBefore(one, other)).toBe(one.sends || !other.sends)
        // Never both, never neither.
        expect(goesBefore(other, one)).toBe(!goesBefore(one, other))
      }
    }
  })

  it('has nodes forget the other when that falls silent, and settles at the show’s priorities 3 s later', () => {
    let { duty, deed } = onDuty(inStep(), { what: 'takeOver', at: 500 })
    ;({ duty, deed } = onDuty(duty, { what: 'reply', at: 700, term: 5 }))
    expect(deed).toBe('alone')
    ;({ duty, deed } = onDuty(duty, { what: 'reply', at: 3600, term: 5 }))
    expect([deed, duty.lift]).toEqual([null, 1])
    ;({ duty, deed } = onDuty(duty, { what: 'reply', at: 3800, term: 5 }))
    expect([deed, duty.lift]).toEqual(['settle', 0])
  })

  it('keeps its lift while the other still sends: a laptop that nobody reaches may be a laptop that still sends', () => {
    let { duty } = onDuty(inStep(), { what: 'takeOver', at: 500 })
    for (let at = 600; at < 20_000; at += 100) ({ duty } = onDuty(duty, beat(at, { term: 4 })))
    expect(duty).toMatchObject({ role: 'leads', lift: 1 })
  })
})

it('two that hear one another never both lead for longer than a heartbeat takes, whatever the order', () => {
  // Every pair of starting roles and terms, heard both ways: one leads afterwards, or none does; never two.
  for (const termA of [1, 2, 3]) {
    for (const termB of [1, 2, 3]) {
      let a = startingDuty('leads', termA)
      let b = startingDuty('leads', termB)
      const aFirst = { term: a.term, lift: a.lift }
      ;({ duty: b } = onDuty(b, beat(0, { ...aFirst, before: true })))
      if (b.role === 'leads') ({ duty: a } = onDuty(a, beat(1, { term: b.term, before: false })))
      expect([a.role, b.role].filter(role => role === 'leads')).toHaveLength(1)
    }
  }
})
