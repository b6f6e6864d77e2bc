// Changes of a build and of a box from their panels: one gesture, one step back that names what was changed.

import type { Box, Build } from '@glowchart/shared/rig/schema.ts'
import type { Answer } from '../../connection.ts'
import { editTogether } from '../../document/editing.ts'

/** @param what in words, as the history names it: "length" */
export const changeBuild = (
  build: string,
  value: Build,
  what: string,
  fields: Partial<Build>,
): Promise<Answer> =>
  editTogether(`${value.name}: ${what}`, [['setBuild', { build, value: { ...value, ...fields } }]])

export const changeBox = (box: string, value: Box, what: string, fields: Partial<Box>): Promise<Answer> =>
  editTogether(`${value.name}: ${what}`, [['setBox', { box, value: { ...value, ...fields } }]])
