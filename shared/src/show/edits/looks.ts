// Edits of the looks, and placing them on a chart.

import { z } from 'zod'
import { CodedError } from '../../errors.ts'
import { lightSchema } from '../../light/schema.ts'
import type { Ticks } from '../../time/units.ts'
import { id, length, name, ticks } from '../fields.ts'
import type { Look, SetList, Show } from '../schema.ts'
import { cueSchema, type Song } from '../song.ts'
import { found, inSong, mapped, put, requireNew, without } from './change.ts'
import { showEdit } from './edit.ts'
import { lightOf, mapCues } from './light.ts'
import { type Placing, withCues } from './place.ts'

const lookOf = (show: Show, look: string): Look => found(show.looks, look, 'look', show.name)

export const lookEdits = {
  addLook: showEdit(
    { look: id, name, parts: z.record(id, lightSchema).default({}) },
    args => `Add the look ${args.name}`,
    (show, args) => {
      requireNew(show.looks, args.look, 'look', show.name)
      return { ...show, looks: put(show.looks, args.look, { name: args.name, parts: args.parts }) }
    },
  ),

  renameLook: showEdit(
    { look: id, name },
    (args, show) => `Rename the look ${lookOf(show, args.look).name}`,
    (show, args) => withLook(show, args.look, look => ({ ...look, name: args.name })),
  ),

  /** What a part does in the look. Null: nothing; cues of that part keep the light they had from it. */
  setLookPart: showEdit(
    { look: id, part: id, light: lightSchema.nullable() },
    (args, show) =>
      `${found(show.parts, args.part, 'part', show.name).name} in ${lookOf(show, args.look).name}`,
    (show, args) => {
      const { look, part, light } = args
      found(show.parts, part, 'part', show.name)
      if (light) return withLook(show, look, old => ({ ...old, parts: put(old.parts, part, light) }))
      found(lookOf(show, look).parts, part, 'part', lookOf(show, look).name)
      const freed = freedFrom(show, look, other => other === part)
      return withLook(freed, look, old => ({ ...old, parts: without(old.parts, part) }))
    },
  ),

  /** The look's cues keep its light as their own. */
  deleteLook: showEdit(
    { look: id },
    (args, show) => `Delete the look ${lookOf(show, args.look).name}`,
    (show, args) => {
      lookOf(show, args.look)
      const freed = freedFrom(show, args.look, () => true)
      const setLists = mapped(freed.setLists, list => withoutLook(list, args.look))
      return { ...freed, setLists, looks: without(freed.looks, args.look) }
    },
  ),

  /**
   * One cue from the look for each of its parts, on the part's first cue track; a part without one gets a track. Ids
   * of new cues and tracks are made from `as`.
   */
  placeLook: showEdit(
    {
      song: id,
      section: id,
      at: ticks,
      length,
      look: id,
      as: id.max(48),
      fadeIn: cueSchema.shape.fadeIn,
      fadeOut: cueSchema.shape.fadeOut,
    },
    (args, show) => `Place ${lookOf(show, args.look).name}`,
    (show, args) => {
      const look = lookOf(show, args.look)
      const parts = show.partOrder.filter(part => Object.hasOwn(look.parts, part))
      if (parts.length === 0) {
        throw new CodedError('edit.look', `the look "${look.name}" has nothing for any part`, show.name)
      }
      return inSong(show, args.song, song => {
        let out = song
        const placings: Placing[] = []
        for (const [i, part] of parts.entries()) {
          let track = out.trackOrder.find(id => out.tracks[id]!.part === part)
          if (track === undefined) {
            track = `${args.as}-t${i + 1}`
            out = withTrack(out, track, part)
          }
          const { section, at, length, fadeIn, fadeOut } = args
          const fades = { ...(fadeIn && { fadeIn }), ...(fadeOut && { fadeOut }) }
          const light = { look: args.look }
          const value = { track, at, length, origin: 0 as Ticks, light, ...fades }
          placings.push({ section, cue: `${args.as}-${i + 1}`, value })
        }
        return withCues(out, placings)
      })
    },
  ),
}

/** A set list in which a look is called for nowhere. */
function withoutLook(list: SetList, look: string): SetList {
  const { walkIn, end, house, ...rest } = list
  const isIn = [walkIn, end, house].includes(look) || list.songs.some(({ before }) => before === look)
  if (!isIn) return list
  return {
    ...rest,
    ...(walkIn !== undefined && walkIn !== look && { walkIn }),
    ...(end !== undefined && end !== look && { end }),
    ...(house !== undefined && house !== look && { house }),
    songs: list.songs.map(({ before, ...entry }) =>
      before === undefined || before === look ? entry : { ...entry, before },
    ),
  }
}

function withTrack(song: Song, id: string, part: string): Song {
  requireNew(song.tracks, id, 'cue track', song.title)
  return {
    ...song,
    tracks: put(song.tracks, id, { part, merge: 'cover', muted: false }),
    trackOrder: [...song.trackOrder, id],
  }
}

const withLook = (show: Show, id: string, change: (look: Look) => Look): Show => ({
  ...show,
  looks: put(show.looks, id, change(lookOf(show, id))),
})

/** The show with cues of a look holding its light as their own, for some of its parts. */
const freedFrom = (show: Show, look: string, which: (part: string) => boolean): Show =>
  mapCues(show, (cue, part) =>
    'look' in cue.light && cue.light.look === look && which(part)
      ? { ...cue, light: lightOf(show, part, cue) }
      : cue,
  )
