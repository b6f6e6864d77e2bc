// What a schema cannot see: that everything a document refers to is there, and that orders list each item once.

import { CodedError, type ErrorCode } from '../errors.ts'
import type { Colours, Light } from '../light/schema.ts'
import type { Rig } from '../rig/schema.ts'
import type { Show } from './schema.ts'
import { checkSong } from './validate-song.ts'

/** Refuses a document for the fault at `path` (within the document). */
export type Refuse = (code: ErrorCode, path: string, says: string) => never

const refuseIn =
  (where: string): Refuse =>
  (code, path, says) => {
    throw new CodedError(code, `${path}: ${says}`, `${where}: ${path}`)
  }

/**
 * @param before a valid show that shares with this one what an edit left alone: that is not looked at again
 * @throws CodedError `document.*` at the first reference that leads nowhere, or order that is not one
 */
export function validateShow(show: Show, where: string, before?: Show): void {
  const refuse: Refuse = refuseIn(where)
  if (!has(show.kits, show.tonight)) {
    refuse('document.reference', 'tonight', `there is no kit "${show.tonight}" in this show`)
  }
  checkOrder(show.partOrder, show.parts, 'partOrder', 'part', refuse)
  checkOrder(show.songOrder, show.songs, 'songOrder', 'song', refuse)
  for (const [id, kit] of Object.entries(show.kits)) {
    for (const [part, { standIn }] of Object.entries(kit.parts)) {
      const path = `kits.${id}.parts.${part}`
      checkPart(show, part, path, refuse)
      if (standIn !== undefined) checkPart(show, standIn, `${path}.standIn`, refuse)
    }
  }
  for (const [id, look] of Object.entries(show.looks)) {
    for (const [part, light] of Object.entries(look.parts)) {
      const path = `looks.${id}.parts.${part}`
      checkPart(show, part, path, refuse)
      checkLight(show, light, path, refuse)
    }
  }
  const hasSameNames =
    show.parts === before?.parts && show.looks === before.looks && show.swatches === before.swatches
  for (const [id, song] of Object.entries(show.songs)) {
    const known = hasSameNames && has(before!.songs, id) ? before!.songs[id] : undefined
    if (song !== known) checkSong(show, song, `songs.${id}`, refuse, known)
  }
  if (show.tonightList !== undefined && !has(show.setLists, show.tonightList)) {
    refuse('document.reference', 'tonightList', `there is no set list "${show.tonightList}" in this show`)
  }
  for (const [id, list] of Object.entries(show.setLists)) {
    const needLook = (look: string | undefined, path: string): void => {
      if (look !== undefined && !has(show.looks, look))
        refuse('document.look', path, `there is no look "${look}" in this show`)
    }
    needLook(list.walkIn, `setLists.${id}.walkIn`)
    needLook(list.end, `setLists.${id}.end`)
    needLook(list.house, `setLists.${id}.house`)
    for (const [i, { song, before }] of list.songs.entries()) {
      needLook(before, `setLists.${id}.songs.${i}.before`)
      if (!has(show.songs, song)) {
        refuse(
          'document.reference',
          `setLists.${id}.songs.${i}.song`,
          `there is no song "${song}" in this show`,
        )
      }
    }
  }
}

/** @throws CodedError `document.*` at the first reference that leads nowhere, or socket that is there twice */
export function validateRig(rig: Rig, where: string): void {
  const refuse: Refuse = refuseIn(where)
  for (const [id, build] of Object.entries(rig.builds)) {
    for (const [i, channel] of build.channels.entries()) {
      if ('cell' in channel && channel.cell >= build.cells) {
        const says = `the build has ${build.cells} cells, numbered from 0`
        refuse('document.reference', `builds.${id}.channels.${i}.cell`, says)
      }
    }
  }
  for (const [id, box] of Object.entries(rig.boxes)) {
    const seen = new Set<string>()
    for (const [i, socket] of box.sockets.entries()) {
      if (seen.has(socket.id)) {
        refuse(
          'document.duplicate',
          `boxes.${id}.sockets.${i}.id`,
          `the box has a socket "${socket.id}" already`,
        )
      }
      seen.add(socket.id)
    }
  }
  for (const [id, fixture] of Object.entries(rig.fixtures)) {
    if (!has(rig.builds, fixture.build)) {
      refuse('document.build', `fixtures.${id}.build`, `there is no build "${fixture.build}" in this rig`)
    }
  }
}

/** Whether a record has a key of its own, and not from its prototype. */
export const has = (record: object, key: string): boolean => Object.hasOwn(record, key)

/** An order must list every item exactly once. */
export function checkOrder(
  order: readonly string[],
  items: object,
  path: string,
  kind: string,
  refuse: Refuse,
): void {
  const listed = new Set<string>()
  for (const [i, id] of order.entries()) {
    if (listed.has(id)) refuse('document.duplicate', `${path}.${i}`, `the ${kind} "${id}" is listed twice`)
    if (!has(items, id)) refuse('document.order', `${path}.${i}`, `there is no ${kind} "${id}"`)
    listed.add(id)
  }
  for (const id of Object.keys(items)) {
    if (!listed.has(id)) refuse('document.order', path, `the ${kind} "${id}" is not listed`)
  }
}

export function checkPart(show: Show, part: string, path: string, refuse: Refuse): void {
  if (!has(show.parts, part)) refuse('document.part', path, `there is no part "${part}" in this show`)
}

export function checkSwatch(show: Show, swatch: string, path: string, refuse: Refuse): void {
  if (!has(show.swatches, swatch)) {
    refuse('document.swatch', path, `there is no swatch "${swatch}" in this show`)
  }
}

/** The swatches of a light are there; its stops and points are in order (two at one place make a step). */
export function checkLight(show: Show, light: Light, path: string, refuse: Refuse): void {
  for (const { swatch, at } of swatchesOf(light.colours)) {
    checkSwatch(show, swatch, `${path}.colours.${at}.swatch`, refuse)
  }
  if (light.colours.along !== 'none')
    checkSequence(light.colours.stops, `${path}.colours.stops`, refuse, () => true)
  if (typeof light.level !== 'number') checkSequence(light.level, `${path}.level`, refuse, () => true)
}

function swatchesOf(colours: Colours): { swatch: string; at: string }[] {
  const all =
    colours.along === 'none'
      ? [{ colour: colours.colour, at: 'colour' }]
      : colours.stops.map(({ colour }, i) => ({ colour, at: `stops.${i}.colour` }))
  return all.flatMap(({ colour, at }) => ('swatch' in colour ? [{ swatch: colour.swatch, at }] : []))
}

/** Items lie in the order of their `at`; `share` says which two may lie at one place. */
export function checkSequence<T extends { at: number }>(
  items: readonly T[],
  path: string,
  refuse: Refuse,
  share: (before: T, after: T) => boolean,
): void {
  for (let i = 1; i < items.length; i++) {
    const [before, after] = [items[i - 1]!, items[i]!]
    if (after.at < before.at || (after.at === before.at && !share(before, after))) {
      refuse('document.sequence', `${path}.${i}`, `it lies at ${after.at}, the one before it at ${before.at}`)
    }
  }
}
