/** Dash patterns by name: lengths on, off, on, off … in line widths. */
export const dashes = {
  clearing: [5, 3],
  timber: [2, 2.5],
  bedding: [6, 2, 1.5, 2],
  corridor: [1, 3],
  'corridor-line': [1, 2],
  soil: [7, 3],
  property: [9, 2.5, 1, 2.5],
  lane: [3.2, 2.2],
  buried: [6, 4],
  section: [10, 3, 2, 3],
  track: [6, 4],
} as const satisfies Record<string, readonly number[]>;

export type DashName = keyof typeof dashes;
