// Art-Net Port-Addresses (Art-Net 4): Net, Sub-Net and Universe in one number of 15 bits.

/** Net 0…127, Sub-Net 0…15, Universe 0…15. */
export interface PortAddress {
  net: number
  subNet: number
  universe: number
}

export function composePortAddress({ net, subNet, universe }: PortAddress): number {
  return ((net & 0x7f) << 8) | ((subNet & 0x0f) << 4) | (universe & 0x0f)
}

export function splitPortAddress(address: number): PortAddress {
  return { net: (address >> 8) & 0x7f, subNet: (address >> 4) & 0x0f, universe: address & 0x0f }
}

/** Net, Sub-Net and Universe as nodes show them: "1:2:3" for 291. */
export function portAddressText(address: number): string {
  const { net, subNet, universe } = splitPortAddress(address)
  return `${net}:${subNet}:${universe}`
}
