/** What the debris of a block is reckoned by. */
export const debrisSettings = [
  'setting:rootShare',
  'setting:brittleTops',
  'setting:packingRatio',
  'setting:pileSoilShare',
  'setting:truckLoadCubicMeters',
] as const;
