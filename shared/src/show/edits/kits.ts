// Edits of the kits: which there are, which stands tonight, its stage, and which fixtures make up each part.

import { z } from 'zod'
import { CodedError } from '../../errors.ts'
import { id, name } from '../fields.ts'
import { type Kit, kitSchema, type Show } from '../schema.ts'
import { type Venue, venueSchema } from '../venue.ts'
import { found, put, requireNew, withFields, without } from './change.ts'
import { showEdit } from './edit.ts'

export const kitOf = (show: Show, kit: string): Kit => found(show.kits, kit, 'kit', show.name)

export const inKit = (show: Show, kit: string, change: (kit: Kit) => Kit): Show => ({
  ...show,
  kits: put(show.kits, kit, change(kitOf(show, kit))),
})

const stage = kitSchema.shape.stage
const venue = venueSchema.shape

type VenueField = keyof Venue

const venueWords: Record<VenueField, string> = {
  trim: 'Trim of the grand master tonight',
  highest: 'Highest grand master tonight',
  strobes: 'Strobes tonight',
  lightOffset: 'Light offset tonight',
  house: 'House input tonight',
}

export const kitEdits = {
  addKit: showEdit(
    { kit: id, name, stage },
    args => `Add the kit ${args.name}`,
    (show, args) => {
      requireNew(show.kits, args.kit, 'kit', show.name)
      const kit = { name: args.name, stage: args.stage, boxes: {}, guests: {}, parts: {} }
      return { ...show, kits: put(show.kits, args.kit, kit) }
    },
  ),

  duplicateKit: showEdit(
    { kit: id, as: id, name },
    (args, show) => `Duplicate the kit ${kitOf(show, args.kit).name}`,
    (show, args) => {
      requireNew(show.kits, args.as, 'kit', show.name)
      return { ...show, kits: put(show.kits, args.as, { ...kitOf(show, args.kit), name: args.name }) }
    },
  ),

  renameKit: showEdit(
    { kit: id, name },
    (args, show) => `Rename the kit ${kitOf(show, args.kit).name}`,
    (show, args) => inKit(show, args.kit, kit => ({ ...kit, name: args.name })),
  ),

  /** Refused for tonight's. */
  deleteKit: showEdit(
    { kit: id },
    (args, show) => `Delete the kit ${kitOf(show, args.kit).name}`,
    (show, args) => {
      const kit = kitOf(show, args.kit)
      if (show.tonight === args.kit) {
        throw new CodedError(
          'edit.used',
          `the kit ${kit.name} stands tonight; choose another one first`,
          show.name,
        )
      }
      return { ...show, kits: without(show.kits, args.kit) }
    },
  ),

  /** Makes it tonight's. */
  chooseKit: showEdit(
    { kit: id },
    (args, show) => `Tonight the kit ${kitOf(show, args.kit).name}`,
    (show, args) => {
      kitOf(show, args.kit)
      return { ...show, tonight: args.kit }
    },
  ),

  setStage: showEdit(
    { kit: id, stage },
    (args, show) => `Stage of the kit ${kitOf(show, args.kit).name}`,
    (show, args) => inKit(show, args.kit, kit => ({ ...kit, stage: args.stage })),
  ),

  /** The venue tonight: what is given takes the place of what stands; null takes it out. */
  setVenue: showEdit(
    {
      kit: id,
      trim: venue.trim.nullable(),
      highest: venue.highest.nullable(),
      strobes: venue.strobes.nullable(),
      lightOffset: venue.lightOffset.nullable(),
      house: venue.house.nullable(),
    },
    args =>
      venueWords[
        (Object.keys(venueWords) as VenueField[]).find(field => args[field] !== undefined) ?? 'trim'
      ],
    (show, { kit, ...fields }) =>
      inKit(show, kit, was => {
        const venue = withFields<Venue>(was.venue ?? {}, fields)
        return withFields(was, { venue: Object.keys(venue).length > 0 ? venue : null })
      }),
  ),

  /** Which fixtures make up a part, in order. `standIn` null: none. */
  setPartFixtures: showEdit(
    {
      kit: id,
      part: id,
      fixtures: z.array(id).max(2000).optional(),
      cyclic: z.boolean().optional(),
      standIn: id.nullable().optional(),
    },
    (args, show) => `Fixtures of ${found(show.parts, args.part, 'part', show.name).name}`,
    (show, args) =>
      inKit(show, args.kit, kit => {
        found(show.parts, args.part, 'part', show.name)
        const part = kit.parts[args.part] ?? { fixtures: [], cyclic: false }
        const { fixtures, cyclic, standIn } = args
        return { ...kit, parts: put(kit.parts, args.part, withFields(part, { fixtures, cyclic, standIn })) }
      }),
  ),
}
