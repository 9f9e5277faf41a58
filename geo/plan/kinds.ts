import * as v from 'valibot';

/**
 * Every kind of feature a plan can carry: its geometry and its own properties (SI, units in names).
 * A property that nobody has filled in is null: unknown is a value, zero is a claim.
 */

const meters = v.pipe(v.number(), v.finite(), v.minValue(0), v.maxValue(100_000));
const elevation = v.pipe(v.number(), v.minValue(-1000), v.maxValue(10_000));
const bearing = v.pipe(v.number(), v.minValue(0), v.maxValue(360));
const share = v.pipe(v.number(), v.minValue(0), v.maxValue(1));
const positive = v.pipe(v.number(), v.finite(), v.minValue(0));
const text = v.pipe(v.string(), v.maxLength(2000));
const isoDate = v.pipe(v.string(), v.regex(/^\d{4}(-\d{2}(-\d{2})?)?$/, 'not a date'));

/** Hydrologic soil groups; a dual one is drained and undrained. */
const soilGroups = ['A', 'B', 'C', 'D', 'A/D', 'B/D', 'C/D'] as const;
export type SoilGroup = (typeof soilGroups)[number];

/** Rows of a tally: how many stems per hectare of which group and thickness. */
const tallyRow = v.object({
  speciesGroup: v.picklist([
    'aspen-alder-cottonwood-willow',
    'soft-maple-birch',
    'mixed-hardwood',
    'hard-maple-oak-hickory-beech',
    'cedar-larch',
    'douglas-fir',
    'true-fir-hemlock',
    'pine',
    'spruce',
    'juniper-oak-mesquite',
  ]),
  diameterMeters: v.pipe(v.number(), v.minValue(0.01), v.maxValue(3)),
  stemsPerHectare: v.pipe(v.number(), v.minValue(0), v.maxValue(1_000_000)),
  soldShare: v.optional(share, 0),
});

export type GeometryType = 'Point' | 'LineString' | 'Polygon';

interface KindDefinition<S extends v.ObjectEntries> {
  readonly geometry: readonly GeometryType[];
  readonly properties: v.StrictObjectSchema<S, undefined>;
}

function kind<const S extends v.ObjectEntries>(
  geometry: readonly GeometryType[],
  entries: S,
): KindDefinition<S> {
  return { geometry, properties: v.strictObject(entries) };
}

export const kinds = {
  'property-line': kind(['Polygon'], {
    basis: v.optional(v.picklist(['parcel-layer', 'deed', 'walked', 'surveyed']), 'parcel-layer'),
  }),
  plot: kind(['Polygon'], {
    weapon: v.optional(v.nullable(v.picklist(['bow', 'shotgun', 'rifle'])), null),
  }),
  clearing: kind(['Polygon'], {
    clearedOn: v.optional(v.nullable(isoDate), null),
  }),
  'timber-block': kind(['Polygon'], {
    tally: v.optional(v.array(tallyRow), []),
    /** How far the count may be out, as a share of it: a strip of n trees gives 2/√n. */
    countErrorShare: v.optional(share, 0),
    stumps: v.optional(v.nullable(v.picklist(['pulled', 'ground', 'left'])), null),
    tops: v.optional(v.nullable(v.picklist(['kept', 'hauled'])), null),
    heightMeters: v.optional(v.nullable(meters), null),
    standing: v.optional(v.boolean(), false),
  }),
  berm: kind(['LineString'], {
    section: v.optional(
      v.picklist(['triangle', 'parabola', 'half-ellipse', 'trapezoid']),
      'parabola',
    ),
    baseWidthMeters: v.optional(meters, 7.3152),
    heightMeters: v.optional(meters, 2.7432),
    gaps: v.optional(v.array(v.object({ stationMeters: meters, widthMeters: meters })), []),
    toBurn: v.optional(v.boolean(), false),
  }),
  heap: kind(['Point', 'Polygon'], {
    shape: v.optional(
      v.picklist([
        'paraboloid',
        'half-sphere',
        'half-cylinder',
        'half-ellipsoid',
        'half-frustum',
        'half-frustum-rounded',
        'irregular',
      ]),
      'paraboloid',
    ),
    lengthMeters: v.optional(v.nullable(meters), null),
    widthMeters: v.optional(v.nullable(meters), null),
    heightMeters: v.optional(v.nullable(meters), null),
    /** Of the far end of a heap that is not alike at both. */
    farWidthMeters: v.optional(v.nullable(meters), null),
    farHeightMeters: v.optional(v.nullable(meters), null),
    /** It stands, and its numbers were taken with a tape: it tells how good the estimate was. */
    taped: v.optional(v.boolean(), false),
    toBurn: v.optional(v.boolean(), false),
  }),
  stand: kind(['Point'], {
    facingDegrees: v.optional(v.nullable(bearing), null),
    seatHeightMeters: v.optional(meters, 3.6576),
    seat: v.optional(
      v.picklist(['ladder-stand', 'hang-on', 'elevated-blind', 'ground-blind', 'scaffold']),
      'ladder-stand',
    ),
    weapon: v.optional(v.nullable(v.picklist(['bow', 'shotgun', 'rifle'])), null),
  }),
  lane: kind(['LineString'], {
    toStand: v.optional(v.nullable(v.string()), null),
    /** How high its top stands over the ground where it is filled up, and how wide that is. */
    fillHeightMeters: v.optional(v.nullable(meters), null),
    widthMeters: v.optional(v.nullable(meters), null),
  }),
  'access-point': kind(['Point'], {
    use: v.optional(v.picklist(['truck', 'machine', 'foot']), 'truck'),
  }),
  'bedding-area': kind(['Polygon'], {}),
  'travel-corridor': kind(['LineString', 'Polygon'], {
    widthMeters: v.optional(v.nullable(meters), null),
  }),
  'no-go': kind(['Polygon'], {
    reason: v.picklist([
      'wetland',
      'stream-buffer',
      'flood-zone',
      'utility',
      'neighbour',
      'cultural-site',
      'protected-species',
      'too-steep',
      'other',
    ]),
    detail: v.optional(text, ''),
  }),
  ditch: kind(['LineString'], {
    bottomWidthMeters: v.optional(meters, 2.1336),
    depthMeters: v.optional(v.nullable(meters), null),
    sideSlopeRun: v.optional(positive, 6),
    /** Height of the bottom at the two ends of the line; a straight grade between. */
    bottomStartMeters: v.optional(v.nullable(elevation), null),
    bottomEndMeters: v.optional(v.nullable(elevation), null),
  }),
  outlet: kind(['Point'], {}),
  culvert: kind(['LineString'], {
    diameterMeters: v.optional(v.nullable(meters), null),
  }),
  'power-line': kind(['LineString'], {
    kilovolts: v.optional(v.nullable(positive), null),
  }),
  'buried-line': kind(['LineString'], {
    carries: v.optional(
      v.picklist(['water', 'electric', 'gas', 'telephone', 'sewer', 'unknown']),
      'unknown',
    ),
    private: v.optional(v.boolean(), true),
    locatedOn: v.optional(v.nullable(isoDate), null),
  }),
  structure: kind(['Point', 'LineString', 'Polygon'], {
    use: v.optional(
      v.picklist(['dwelling', 'cabin', 'barn', 'well', 'road', 'track', 'stream', 'other']),
      'other',
    ),
    ownedBy: v.optional(v.picklist(['owner', 'neighbour', 'public']), 'owner'),
    /** Of a road or track: how high its top stands over the ground, and how wide that is. */
    fillHeightMeters: v.optional(v.nullable(meters), null),
    widthMeters: v.optional(v.nullable(meters), null),
  }),
  'soil-sample': kind(['Point'], {
    bag: v.optional(text, ''),
    takenOn: v.optional(v.nullable(isoDate), null),
    depthMeters: v.optional(v.nullable(meters), null),
    ph: v.optional(v.nullable(v.pipe(v.number(), v.minValue(2), v.maxValue(11))), null),
    acidityMilliequivalents: v.optional(v.nullable(positive), null),
    phosphorusIndex: v.optional(v.nullable(positive), null),
    potassiumIndex: v.optional(v.nullable(positive), null),
  }),
  'soil-area': kind(['Polygon'], {
    series: v.optional(text, ''),
    hydrologicGroup: v.optional(v.nullable(v.picklist(soilGroups)), null),
    drained: v.optional(v.boolean(), false),
    surfaceKsatMetersPerSecond: v.optional(v.nullable(positive), null),
    restrictingKsatMetersPerSecond: v.optional(v.nullable(positive), null),
    restrictingDepthMeters: v.optional(v.nullable(meters), null),
  }),
  'section-line': kind(['LineString'], {}),
  note: kind(['Point'], {
    text: v.optional(text, ''),
    about: v.optional(v.picklist(['soft-ground', 'rock', 'line-flag', 'stump', 'other']), 'other'),
  }),
} as const;

export type Kind = keyof typeof kinds;

export const kindNames = Object.keys(kinds) as Kind[];

export type PropertiesOf<K extends Kind> = v.InferOutput<(typeof kinds)[K]['properties']>;

/**
 * Properties of a kind of which nobody has filled in any: its defaults. Throws for no-go ground,
 * which is nothing without its reason.
 */
export function blankProperties<K extends Kind>(kind: K): PropertiesOf<K> {
  return v.parse(kinds[kind].properties as v.GenericSchema, {}) as PropertiesOf<K>;
}
