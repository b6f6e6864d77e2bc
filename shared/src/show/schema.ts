// The show document: a band's kits, parts, swatches, looks, songs and set lists, and where its light is sent.

import { z } from 'zod'
import { TIMECODE } from '../clock/timecode.ts'
import { lightSchema } from '../light/schema.ts'
import { oscSchema } from '../osc/schema.ts'
import { triggerSchema } from '../trigger/trigger.ts'
import { address, hex, id, name, note, place, share, universe } from './fields.ts'
import { outputSchema } from './output.ts'
import { songSchema } from './song.ts'
import { venueSchema } from './venue.ts'

export const SHOW_FORMAT = 'glowchart-show'
export const SHOW_VERSION = 2

/** A fixture as it stands tonight. */
const stand = z.object({
  fixture: id,
  place,
  /** Turn in the plane seen from the house, degrees clockwise; 0 is upright for a tube, reading for letters. */
  turn: z.number().min(-360).max(360).default(0),
  /** Factor on its level for tonight. */
  trim: share.default(1),
  /** Colour order for tonight when the wiring is swapped: which of the build's colours each output drives. */
  swap: z.enum(['rgb', 'rbg', 'grb', 'gbr', 'brg', 'bgr']).optional(),
  /** It is not there tonight: its place and its socket wait for it, and the parts play without it. */
  missing: z.boolean().optional(),
})
export type Stand = z.infer<typeof stand>

/** A fixture with its own DMX address, not on a box (rented). Its id stands in parts as a fixture's does. */
const guest = z.object({
  name,
  build: id,
  universe,
  address,
  place,
  turn: z.number().min(-360).max(360).default(0),
  trim: share.default(1),
})
export type Guest = z.infer<typeof guest>

/** What stands where tonight. */
export const kitSchema = z.object({
  name,
  /** The stage in metres: width, depth, and height under the lowest obstacle. */
  stage: z.object({
    width: z.number().min(1).max(60),
    depth: z.number().min(1).max(40),
    height: z.number().min(1).max(30),
  }),
  /** Boxes that are out tonight, by the rig's box id, and what stands in their sockets, by socket id. */
  boxes: z.record(
    id,
    z.object({
      place,
      sockets: z.record(id, stand),
      /** While the box is out of play: the sockets whose fixtures were missing before. */
      missingBefore: z.array(id).max(64).optional(),
      /** Amps above which all light of the box is dimmed, keeping its hue; left out: not armed. */
      powerLimit: z.number().min(0.1).max(500).optional(),
    }),
  ),
  guests: z.record(id, guest),
  /** Which fixtures (or guests) make up each part, in order; `standIn`: the part that plays when this one is empty. */
  parts: z.record(
    id,
    z.object({
      fixtures: z.array(id),
      /** The order closes in a ring: the last fixture is next to the first. */
      cyclic: z.boolean().default(false),
      standIn: id.optional(),
    }),
  ),
  /** Where it stands tonight: another night, another venue. Left out: nothing is limited. */
  venue: venueSchema.optional(),
})
export type Kit = z.infer<typeof kitSchema>

const look = z.object({
  name,
  /** What each part does in this look. */
  parts: z.record(id, lightSchema),
})
export type Look = z.infer<typeof look>

export const setListSchema = z.object({
  name,
  /** `before`: the look that stands until the song is started: a change, or under talk. */
  songs: z
    .array(
      z.object({
        song: id,
        note: note.optional(),
        before: id.optional(),
        /** Where the song's first bar lies when the whole set is on one timeline: the label that the sender shows. */
        timecode: z.string().regex(TIMECODE).optional(),
        /** The same for MIDI clock: its song position, in sixteenths (14 bits, MIDI 1.0). */
        songPosition: z.int().min(0).max(16_383).optional(),
      }),
    )
    .max(500),
  /** Program n, or song select n, makes song n of the list ready. */
  byNumber: z.boolean().optional(),
  /** The looks before the first song, and after the last. */
  walkIn: id.optional(),
  end: id.optional(),
  /** The house look: to be called at any time. */
  house: id.optional(),
})
export type SetList = z.infer<typeof setListSchema>

export const showSchema = z.object({
  format: z.literal(SHOW_FORMAT),
  version: z.literal(SHOW_VERSION),
  id,
  /** The band's name. */
  name,
  /** The rig's id. */
  rig: id,
  /** The kit that stands tonight. */
  tonight: id,
  kits: z.record(id, kitSchema),
  parts: z.record(id, z.object({ name })),
  /** Highest on the stage first: the chart's order. */
  partOrder: z.array(id),
  swatches: z.record(id, z.object({ name, hex })),
  looks: z.record(id, look),
  songs: z.record(id, songSchema),
  songOrder: z.array(id),
  setLists: z.record(id, setListSchema),
  /** The set list that is played tonight; left out: all songs in their order. */
  tonightList: id.optional(),
  /** Left out: those of a pedal with four buttons. */
  triggers: z.array(triggerSchema).max(256).optional(),
  /** Where Open Sound Control is heard; left out: nowhere. */
  osc: oscSchema.optional(),
  output: outputSchema,
})
export type Show = z.infer<typeof showSchema>
