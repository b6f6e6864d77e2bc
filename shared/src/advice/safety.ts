// The cautions that Glowchart carries: shown by the pages, printed on the sheets, quoted by advice.

/** Said beside every caution: the tool advises, and certifies nothing. */
export const ADVISORY =
  'Glowchart advises; it certifies nothing. Its figures are estimates: check them with a meter, and defer to local codes and to the venue.'

export const FLASH_NOTICE =
  'Flashing light can harm people with photosensitive epilepsy. Stay at 3 flashes a second or fewer, post a notice at the entrance, and follow the rules of the venue.'

export const MAINS_NOTICE =
  'Mains and supplies: local electrical code and licensed practice come first. Fuse every output for its smallest conductor.'

export const CABLE_NOTICE =
  'Cables across a stage are trip hazards: run them along the edges, and tape or cover every crossing.'
