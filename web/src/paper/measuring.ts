// Whether a block is drawn only to be measured.

import { createContext } from 'react'

export const Measuring = createContext(false)
