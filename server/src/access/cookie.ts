// The cookie that carries a guest's token: out of reach of scripts, and never sent from another site's page.

const NAME = 'glowchart-guest'
/** Seconds; the session itself ends on the server. */
const LASTS = 4 * 24 * 3600

/** The token among the cookies of a request; null when there is none. */
export const tokenOf = (cookies: string | undefined): string | null =>
  new RegExp(`(?:^|;\\s*)${NAME}=([\\w-]{43})(?:;|$)`).exec(cookies ?? '')?.[1] ?? null

/** Set-Cookie (RFC 6265; SameSite from its revision). Not `Secure`: the laptop has no certificate that a phone would trust. */
export const cookieOf = (token: string): string =>
  `${NAME}=${token}; Path=/; Max-Age=${LASTS}; HttpOnly; SameSite=Strict`
