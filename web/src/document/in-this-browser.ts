// What is kept in this browser's storage, which may be full or forbidden, and may hold anything.

import { createJSONStorage, type PersistStorage } from 'zustand/middleware'

/** The storage of preferences. What it does not take lasts as long as the page. */
export const inThisBrowser = <T>(): PersistStorage<T> | undefined =>
  createJSONStorage<T>(() => ({
    getItem: name => localStorage.getItem(name),
    setItem(name, value) {
      try {
        localStorage.setItem(name, value)
      } catch {
        // The page goes on with it.
      }
    },
    removeItem: name => localStorage.removeItem(name),
  }))

/** By field, whether a value may stand there. */
export type RightIf<T> = { readonly [K in keyof T]: (value: unknown) => boolean }

/** The fields that are there and right. */
export function rightOf<T extends object>(kept: unknown, isRight: RightIf<T>): Partial<T> {
  const fields = typeof kept === 'object' && kept !== null ? Object.entries(kept) : []
  return Object.fromEntries(
    fields.filter(([key, value]) => Object.hasOwn(isRight, key) && isRight[key as keyof T](value)),
  ) as Partial<T>
}

/** Whether all of the fields are there and right. */
export const isWhole = <T extends object>(kept: unknown, isRight: RightIf<T>): boolean =>
  Object.keys(rightOf(kept, isRight)).length === Object.keys(isRight).length
