// How large flashing light looks: the solid angle that counts as small, and what it is on a stage at a distance.

/** Diameter of the field of view that counts, degrees (W3C WCAG 2.2: any 10 degree visual field). */
const FIELD_DEGREES = 10
/** Share of that field below which flashing is small (W3C WCAG 2.2; ITU-R BT.1702-3 has it of a screen). */
const SMALL_SHARE = 0.25

const half = (FIELD_DEGREES / 2) * (Math.PI / 180)

/** The cone of the field, sr: 0.0239. */
export const FIELD_SR = 2 * Math.PI * (1 - Math.cos(half))
/** Flashing light that is together smaller than this in any such field is small, sr: WCAG 2.2 rounds the share to it. */
export const SMALL_SR = Math.round(SMALL_SHARE * FIELD_SR * 1000) / 1000

/** Square metres, facing the eye, that are as large as what counts as small, at a distance in metres. */
export const smallArea = (distance: number): number => SMALL_SR * distance * distance

/** Metres across of the disc that the field covers at a distance in metres. */
export const fieldWidth = (distance: number): number => 2 * distance * Math.tan(half)
