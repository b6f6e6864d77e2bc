// Which of two paired laptops drives the light: a value and one pure step, so that there is never a doubt about who leads.

/** Ms between heartbeats. */
const BEAT = 100
/**
 * After so long without a heartbeat the one that leads is lost, ms: three are missing and the fourth is overdue.
 * Light is right again within a second only if this, the opening of the outputs and a frame fit into it.
 */
export const LOSS = 3.5 * BEAT
/** Heartbeats in a row before the one that follows trusts itself to know where the song is. */
export const TRUSTED = 5
/** The other has followed for so long, ms: its sACN streams are ended (E1.31-2018 6.7.1: lost after 2.5 s), and the lift may go. */
const SETTLED = 3000
const HIGHEST_LIFT = 200

export interface Duty {
  readonly role: 'leads' | 'follows'
  /** Counts the take-overs of this pair: who leads under the higher term is right. */
  readonly term: number
  /** Added to the show's sACN priorities, so that receivers take this laptop's light and not the one's that led before. */
  readonly lift: number
  /**
   * The last heartbeat of the other as one that leads: when it came (ms), the lift it sends with, and whether it sends
   * at all: one whose output is off is not missed.
   */
  readonly lead: { readonly at: number; readonly lift: number; readonly sends: boolean } | null
  /** Its heartbeats in a row while its show was held. */
  readonly trusted: number
  /** Since when the other has followed under this term, ms; null when it does not. */
  readonly followedSince: number | null
}

export const startingDuty = (role: Duty['role'], term: number): Duty => ({
  role,
  term,
  lift: 0,
  lead: null,
  trusted: 0,
  followedSince: null,
})

export type DutyEvent =
  /** A heartbeat. `held`: the show it plays is held here. `before`: in a tie the other goes first. */
  | {
      readonly what: 'beat'
      readonly at: number
      readonly term: number
      readonly lift: number
      readonly yields: boolean
      readonly sends: boolean
      readonly held: boolean
      readonly before: boolean
    }
  /** A reply: the other follows. */
  | { readonly what: 'reply'; readonly at: number; readonly term: number }
  | { readonly what: 'tick'; readonly at: number }
  /** This laptop slept or stood still: nobody was heard meanwhile, which says nothing of the other. */
  | { readonly what: 'woke'; readonly at: number }
  /** The other has ended the pair. */
  | { readonly what: 'bye' }
  /** Pressed here. */
  | { readonly what: 'takeOver'; readonly at: number }

/**
 * `takeOver`: open the ways out. `yield`: close them. `alone`: the other has just fallen silent, and nodes may forget
 * what it sent last. `settle`: send at the show's own priorities again.
 */
export type Deed = 'takeOver' | 'yield' | 'alone' | 'settle'

/** Whether the one that follows could go on by itself at a loss. */
export const isReady = (duty: Duty): boolean => duty.role === 'follows' && duty.trusted >= TRUSTED

/** One step. Times are ms of one monotonic clock. */
export function onDuty(duty: Duty, event: DutyEvent): { duty: Duty; deed: Deed | null } {
  switch (event.what) {
    case 'beat':
      return duty.role === 'leads' ? rivalHeard(duty, event) : leadHeard(duty, event)
    case 'reply': {
      if (duty.role === 'follows') return { duty, deed: null }
      if (duty.followedSince === null) {
        return { duty: { ...duty, followedSince: event.at }, deed: duty.lift > 0 ? 'alone' : null }
      }
      const settles = duty.lift > 0 && event.at - duty.followedSince >= SETTLED
      return { duty: settles ? { ...duty, lift: 0 } : duty, deed: settles ? 'settle' : null }
    }
    case 'tick':
      return isReady(duty) && duty.lead?.sends && event.at - duty.lead.at > LOSS
        ? takenOver(duty)
        : { duty, deed: null }
    case 'woke':
      return { duty: { ...duty, lead: duty.lead && { ...duty.lead, at: event.at } }, deed: null }
    case 'bye':
      return { duty: { ...duty, lead: null, trusted: 0, followedSince: null }, deed: null }
    case 'takeOver':
      return duty.role === 'follows' ? takenOver(duty) : { duty, deed: null }
  }
}

/**
 * Whether the other goes on at a tie. Who sends light goes before who sends none: a laptop that joins its pair again must
 * not put out the light of the one that has played on.
 */
export function goesBefore(
  other: { readonly id: string; readonly sends: boolean },
  own: { readonly id: string; readonly sends: boolean },
): boolean {
  return other.sends === own.sends ? other.id < own.id : other.sends
}

type BeatEvent = Extract<DutyEvent, { what: 'beat' }>

/** Two lead: who took over last is right; at a tie, which no take-over makes, the one that `goesBefore` the other. */
function rivalHeard(duty: Duty, event: BeatEvent): { duty: Duty; deed: Deed | null } {
  if (event.term < duty.term || (event.term === duty.term && !event.before)) {
    return { duty: { ...duty, followedSince: null }, deed: null }
  }
  const follows = startingDuty('follows', event.term)
  return { duty: { ...follows, lead: { at: event.at, lift: event.lift, sends: event.sends } }, deed: 'yield' }
}

function leadHeard(duty: Duty, event: BeatEvent): { duty: Duty; deed: Deed | null } {
  const heard = {
    ...duty,
    term: Math.max(duty.term, event.term),
    lead: { at: event.at, lift: event.lift, sends: event.sends },
    trusted: event.held ? Math.min(TRUSTED, duty.trusted + 1) : 0,
  }
  return event.yields && isReady(heard) ? takenOver(heard) : { duty: heard, deed: null }
}

const takenOver = (duty: Duty): { duty: Duty; deed: Deed } => ({
  duty: {
    ...startingDuty('leads', duty.term + 1),
    lift: Math.min(HIGHEST_LIFT, (duty.lead?.lift ?? 0) + 1),
  },
  deed: 'takeOver',
})
