import type { Kind } from '../../geo/plan/kinds.ts';

/** How one property of a feature is written on the page. */
export interface PropertyWords {
  readonly label: string;
  /** Tape: feet and inches; ground: feet; hydraulic: in/h; other numbers as they are. */
  readonly measure?: 'tape' | 'ground' | 'bearing' | 'ksat' | 'percent' | 'plain';
  readonly unit?: string;
  readonly help?: string;
}

/** By property key; a kind's own wording of the same key comes first as `kind.key`. */
const words: Readonly<Record<string, PropertyWords>> = {
  basis: { label: 'Taken from' },
  weapon: { label: 'Hunted with' },
  clearedOn: { label: 'Cleared on', help: 'year, or year-month-day' },
  tally: { label: 'Tree tally' },
  countErrorShare: {
    label: 'Count is good to',
    measure: 'percent',
    help: 'of 12 trees on a strip, 58 %: twice one over the root of the count',
  },
  stumps: { label: 'Stumps' },
  tops: { label: 'Tops' },
  heightMeters: { label: 'Height', measure: 'tape' },
  standing: { label: 'Stays standing' },
  section: { label: 'Cross-section' },
  baseWidthMeters: { label: 'Base width', measure: 'tape' },
  gaps: { label: 'Gaps' },
  toBurn: { label: 'To be burned' },
  shape: { label: 'Shape' },
  farWidthMeters: { label: 'Width at the far end', measure: 'tape' },
  farHeightMeters: { label: 'Height at the far end', measure: 'tape' },
  taped: {
    label: 'Stands already',
    help: 'taped, or without numbers seen in the surface',
  },
  lengthMeters: { label: 'Length', measure: 'tape' },
  widthMeters: { label: 'Width', measure: 'tape' },
  facingDegrees: { label: 'Faces', measure: 'bearing', help: 'degrees from true north, or SE' },
  seatHeightMeters: { label: 'Seat height', measure: 'tape' },
  seat: { label: 'Kind of seat' },
  toStand: { label: 'Leads to stand' },
  use: { label: 'Use' },
  reason: { label: 'Reason' },
  detail: { label: 'Detail' },
  bottomWidthMeters: { label: 'Bottom width', measure: 'tape' },
  depthMeters: { label: 'Depth', measure: 'tape' },
  bottomStartMeters: { label: 'Bottom at its start', measure: 'tape' },
  bottomEndMeters: { label: 'Bottom at its end', measure: 'tape' },
  sideSlopeRun: { label: 'Side slope, run to 1 rise', measure: 'plain', unit: ': 1' },
  diameterMeters: { label: 'Diameter', measure: 'tape' },
  kilovolts: { label: 'Voltage', measure: 'plain', unit: 'kV' },
  carries: { label: 'Carries' },
  private: { label: 'Private line' },
  locatedOn: { label: 'Located on', help: 'year-month-day' },
  ownedBy: { label: 'Owned by' },
  fillHeightMeters: {
    label: 'Height of its fill',
    measure: 'tape',
    help: 'how high the top of a road or lane stands over the ground; it dams as a berm does',
  },
  bag: { label: 'Bag number' },
  takenOn: { label: 'Taken on', help: 'year-month-day' },
  ph: { label: 'pH', measure: 'plain' },
  acidityMilliequivalents: { label: 'Acidity', measure: 'plain', unit: 'meq/100 cm³' },
  phosphorusIndex: { label: 'Phosphorus index', measure: 'plain' },
  potassiumIndex: { label: 'Potassium index', measure: 'plain' },
  series: { label: 'Soil series' },
  hydrologicGroup: { label: 'Hydrologic group' },
  drained: { label: 'Drained' },
  surfaceKsatMetersPerSecond: { label: 'Takes water at the surface', measure: 'ksat' },
  restrictingKsatMetersPerSecond: { label: 'Takes water at the tight layer', measure: 'ksat' },
  restrictingDepthMeters: { label: 'Depth to the tight layer', measure: 'tape' },
  text: { label: 'Note' },
  about: { label: 'About' },
};

const ownWords: Readonly<Record<string, PropertyWords>> = {
  'soil-sample.depthMeters': { label: 'Depth sampled', measure: 'tape' },
  'timber-block.heightMeters': { label: 'Tree height', measure: 'tape' },
};

export function propertyWords(kind: Kind, key: string): PropertyWords {
  return ownWords[`${kind}.${key}`] ?? words[key] ?? { label: key };
}

export function hasPropertyWords(key: string): boolean {
  return key in words;
}

const choices: Readonly<Record<string, string>> = {
  'parcel-layer': 'parcel outline (not a survey)',
  deed: 'deed calls (not a survey)',
  walked: 'walked',
  surveyed: 'surveyed',
  bow: 'bow',
  shotgun: 'shotgun or muzzleloader',
  rifle: 'rifle',
  pulled: 'pulled',
  ground: 'ground down',
  left: 'left to rot',
  kept: 'kept on the site',
  hauled: 'hauled off',
  triangle: 'triangle',
  parabola: 'parabola',
  'half-ellipse': 'half ellipse',
  trapezoid: 'trapezoid',
  paraboloid: 'rounded, steepest at the foot',
  'half-sphere': 'half a ball',
  'half-cylinder': 'half a log, square ends',
  'half-ellipsoid': 'half an egg',
  'half-frustum': 'tapered half log, square ends',
  'half-frustum-rounded': 'tapered half log, round ends',
  irregular: 'irregular, box of means',
  'ladder-stand': 'ladder stand',
  'hang-on': 'hang-on stand',
  'elevated-blind': 'elevated blind',
  'ground-blind': 'ground blind',
  scaffold: 'scaffold',
  truck: 'truck',
  machine: 'machine',
  foot: 'on foot',
  wetland: 'wetland',
  'stream-buffer': 'stream buffer',
  'flood-zone': 'flood zone',
  utility: 'utility',
  neighbour: 'neighbor',
  'cultural-site': 'cultural site',
  'protected-species': 'protected species',
  'too-steep': 'too steep',
  other: 'other',
  water: 'water',
  electric: 'electric',
  gas: 'gas',
  telephone: 'telephone',
  sewer: 'sewer',
  unknown: 'not known',
  dwelling: 'dwelling',
  cabin: 'cabin',
  barn: 'barn',
  well: 'well',
  road: 'road',
  track: 'track',
  stream: 'stream',
  owner: 'the owner',
  public: 'the public',
  A: 'A',
  B: 'B',
  C: 'C',
  D: 'D',
  'A/D': 'A/D',
  'B/D': 'B/D',
  'C/D': 'C/D',
  'soft-ground': 'soft ground',
  rock: 'rock',
  'line-flag': 'line flag',
  stump: 'stump',
};

export function choiceWords(value: string): string {
  return choices[value] ?? value;
}

export function hasChoiceWords(value: string): boolean {
  return value in choices;
}
