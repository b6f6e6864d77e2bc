// The keys of the rig page, for the list of keys; each works on the box or light that has the focus.

export const rigKeyList = [
  ['Arrows', 'on the rig: move a box or a light by 10 cm, with Shift by 1 m'],
] as const
