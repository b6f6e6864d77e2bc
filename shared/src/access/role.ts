// Who somebody at a page is: the laptop itself, or a guest on the network who looks on until more is given.

/** From least to most; each may do what those before it may. `owner`: the laptop itself, by loopback. */
const roles = ['viewer', 'checker', 'controller', 'owner'] as const
export type Role = (typeof roles)[number]

/** What the laptop can give a guest. */
export const guestRoles = ['viewer', 'checker', 'controller'] as const
export type GuestRole = (typeof guestRoles)[number]

export const isAtLeast = (role: Role, least: Role): boolean => roles.indexOf(role) >= roles.indexOf(least)
