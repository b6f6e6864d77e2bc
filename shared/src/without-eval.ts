// Keeps zod from making code out of text, which pages with our content security policy must not. Import it before
// any schema.

import { z } from 'zod'

z.config({ jitless: true })
