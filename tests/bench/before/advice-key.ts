// Before: the key of a piece of advice, made anew whenever it was asked for.

import type { Advice } from '@glowchart/shared/advice/advice.ts'

export const keyOf = ({ kind, place }: Advice): string => `${kind} ${JSON.stringify(place)}`
