// The sections looked at together: those that play the same, while one of their marks has the pointer or the keyboard.

import { create } from 'zustand'

/** The source of the family that is looked at. */
export const useFamily = create<{ source: string | null }>(() => ({ source: null }))

export const lookAtFamily = (source: string | null): void => useFamily.setState({ source })
