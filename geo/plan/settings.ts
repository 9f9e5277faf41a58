import * as v from 'valibot';
import { imageryList, layerOrder } from './imagery.ts';
import { machineFigures, machineList } from './machine.ts';
import { shotRulesSchema, usualShotRules } from './shot-rules.ts';
import { ok, problem, type Result } from '../result.ts';

const degrees = v.pipe(v.number(), v.minValue(-180), v.maxValue(180));

const share = v.pipe(v.number(), v.minValue(0), v.maxValue(1));
const clearance = v.pipe(v.number(), v.minValue(0), v.maxValue(10_000));
const perDay = v.pipe(v.number(), v.minValue(0), v.maxValue(0.05));
const dayOfMonth = v.pipe(v.number(), v.integer(), v.minValue(1), v.maxValue(31));
const month = v.pipe(v.number(), v.integer(), v.minValue(1), v.maxValue(12));

/** A name that the table of curve numbers has. */
const cover = v.picklist([
  'woods-poor',
  'woods-fair',
  'woods-good',
  'woods-grass-poor',
  'woods-grass-fair',
  'woods-grass-good',
  'brush-poor',
  'brush-fair',
  'brush-good',
  'meadow',
  'pasture-poor',
  'pasture-fair',
  'pasture-good',
  'newly-graded',
  'fallow-residue-poor',
  'fallow-residue-good',
  'row-crop-poor',
  'row-crop-good',
  'small-grain-poor',
  'small-grain-good',
  'small-grain-contoured-good',
  'legumes-poor',
  'legumes-good',
  'dirt-road',
  'gravel-road',
  'paved',
  'farmstead',
]);

/** Settings of a plan, by key; each has a default, so a plan stores only what was changed. */
const schemas = {
  siteName: v.pipe(v.string(), v.maxLength(200)),
  jobNumber: v.pipe(v.string(), v.maxLength(60)),
  /** The invented tract that Assart opens with; a ground of one's own elsewhere takes its place. */
  isDemo: v.boolean(),
  units: v.picklist(['us', 'metric']),
  /** IANA name, e.g. America/New_York; empty means not set. */
  timeZone: v.pipe(v.string(), v.maxLength(64)),
  /** Ground in use, by content hash; empty means none. */
  groundId: v.pipe(v.string(), v.regex(/^([0-9a-f]{64})?$/, 'not a content hash')),
  /** A surface over that ground: tree tops before clearing, heaps after; empty means none. */
  surfaceId: v.pipe(v.string(), v.regex(/^([0-9a-f]{64})?$/, 'not a content hash')),
  /** Photo in use, by content hash; empty means none. */
  photoId: v.pipe(v.string(), v.regex(/^([0-9a-f]{64})?$/, 'not a content hash')),
  /** Online imagery of the user's choice; nothing is fetched but what is shown here. */
  imagery: imageryList,
  /** What lies under the linework, bottom to top; `wholeOrder` completes it. */
  layerOrder,
  /** Low spots shallower or smaller than these are left out of lists; totals stay whole. */
  listMinDepthMeters: v.pipe(v.number(), v.minValue(0), v.maxValue(10)),
  listMinAreaSquareMeters: v.pipe(v.number(), v.minValue(0), v.maxValue(1e6)),
  /** Whether ground over that slope (rise over run) is taken off what can be planted. */
  takeOffTooSteep: v.boolean(),
  tooSteepSlope: v.pipe(v.number(), v.minValue(0.01), v.maxValue(2)),
  /** What grows on the site, and on cleared ground; names of TR-55's tables. */
  siteCover: cover,
  clearedCover: cover,
  /** Whether rain falls on the site as it is, or with clearings and plots cleared. */
  rainFallsOn: v.picklist(['as-it-is', 'cleared']),
  /** Whether water runs over the ground as surveyed, or with berms, ditches and culverts drawn. */
  waterOn: v.picklist(['as-surveyed', 'with-the-plan']),
  /** [Longitude, latitude] of wet places that somebody fit to judge has looked at. */
  lookedAt: v.pipe(v.array(v.tuple([degrees, degrees])), v.maxLength(1000)),
  /** [Longitude, latitude] of road fills that are known to have no culvert. */
  noCulvertAt: v.pipe(v.array(v.tuple([degrees, degrees])), v.maxLength(1000)),
  /** A rainfall-frequency table as it was read, in its own text; empty means none. */
  rainTable: v.pipe(v.string(), v.maxLength(20_000)),
  /** Hourly wind of stations near, each as `pack-record` writes it; the first one counts. */
  windStations: v.pipe(
    v.array(
      v.strictObject({
        id: v.pipe(v.string(), v.maxLength(100)),
        name: v.pipe(v.string(), v.maxLength(200)),
        longitude: v.nullable(degrees),
        latitude: v.nullable(degrees),
        mastMeters: v.pipe(v.number(), v.minValue(1), v.maxValue(200)),
        /** What became of the rows of its file. */
        tally: v.record(v.string(), v.number()),
        hours: v.pipe(v.string(), v.maxLength(4_000_000)),
      }),
    ),
    v.maxLength(6),
  ),
  /** The stand that lanes are looked for; empty means none. */
  lanesFor: v.pipe(v.string(), v.maxLength(64)),
  /** First and last day, [month, day]; it may run over the new year. */
  huntingSeason: v.tuple([v.tuple([month, dayOfMonth]), v.tuple([month, dayOfMonth])]),
  /** Legal light begins so long before sunrise and ends so long after sunset, minutes. */
  lightBeforeSunriseMinutes: v.pipe(v.number(), v.minValue(-120), v.maxValue(120)),
  lightAfterSunsetMinutes: v.pipe(v.number(), v.minValue(-120), v.maxValue(120)),
  /** What the verdict on a wind goes by: ours, never fact. */
  scentRangeMeters: v.pipe(v.number(), v.minValue(20), v.maxValue(3000)),
  scentLeastHalfAngleDegrees: v.pipe(v.number(), v.minValue(5), v.maxValue(180)),
  scentCoreHalfAngleDegrees: v.pipe(v.number(), v.minValue(0), v.maxValue(180)),
  scentLocalTurningDegrees: v.pipe(v.number(), v.minValue(0), v.maxValue(90)),
  /** Whether places for stands are looked for: it takes a while. */
  wantsSiting: v.boolean(),
  /** What a stand is held to by what it is hunted with; the state's own rules come first. */
  shotRules: shotRulesSchema,
  /** To either side of where a stand looks. */
  shotHalfArcDegrees: v.pipe(v.number(), v.minValue(5), v.maxValue(180)),
  /** Where no soil area is drawn. */
  assumedSoilGroup: v.picklist(['A', 'B', 'C', 'D']),
  /** How the rain of a day is spread over its hours here: TR-55's types. */
  rainType: v.picklist(['I', 'IA', 'II', 'III']),
  /** On a day of the growing season; the months follow from it unless they are written down. */
  evaporationMetersPerDay: perDay,
  /** January to December, a day; null for the shape of the year behind the figure above. */
  evaporationByMonth: v.nullable(v.pipe(v.array(perDay), v.length(12))),
  /** First and last month, 1 to 12. */
  growingSeason: v.tuple([month, month]),
  /** While it is, nothing soaks in. */
  waterTableUp: v.boolean(),
  /** A gap in a berm: how wide, and from how much ground that drains across it one is needed. */
  gapWidthMeters: v.pipe(v.number(), v.minValue(1), v.maxValue(30)),
  gapCatchmentSquareMeters: v.pipe(v.number(), v.minValue(1), v.maxValue(1e6)),
  /** Flow lines are drawn from where so much ground drains through one place. */
  flowCatchmentSquareMeters: v.pipe(v.number(), v.minValue(1), v.maxValue(1e8)),
  /** What a pulled stump brings of its coarse roots; `debris-choices` has the range about each. */
  rootShare: share,
  /** What lies about of the tops of sold trees, over what the tables give them. */
  brittleTops: v.pipe(v.number(), v.minValue(1), v.maxValue(3)),
  /** Wood and soil over the gross volume of a pile. */
  packingRatio: v.pipe(v.number(), v.minValue(0.02), v.maxValue(0.6)),
  pileSoilShare: v.pipe(v.number(), v.minValue(0), v.maxValue(0.3)),
  truckLoadCubicMeters: v.pipe(v.number(), v.minValue(1), v.maxValue(100)),
  bermMaxHeightMeters: v.pipe(v.number(), v.minValue(0.5), v.maxValue(8)),
  /** Debris is pushed no further. */
  pushReachMeters: v.pipe(v.number(), v.minValue(5), v.maxValue(1000)),
  /** Left unplanted round a berm or a heap, to work and turn in. */
  workingStripMeters: v.pipe(v.number(), v.minValue(0), v.maxValue(30)),
  /** What is to burn keeps so far from each, usually; local rules come before. */
  burnClearMeters: v.strictObject({
    'neighbour-dwelling': clearance,
    'own-building': clearance,
    'power-line': clearance,
    'standing-trees': clearance,
    road: clearance,
  }),
  /** Of the volume of a clean dry pile. */
  burnConsumedShare: share,
  /** No part of a berm between wildlife gaps is longer; and the gap of one that is to burn. */
  gapSpacingMeters: v.pipe(v.number(), v.minValue(5), v.maxValue(500)),
  burnGapWidthMeters: v.pipe(v.number(), v.minValue(1), v.maxValue(30)),
  /** The machine in use: its figures, and what was logged with it. */
  ...machineFigures,
  /** Machines to pick from. */
  machines: machineList,
  dozerOperator: v.picklist(['excellent', 'average', 'poor']),
} as const;

export type Settings = { [K in keyof typeof schemas]: v.InferOutput<(typeof schemas)[K]> };
export type SettingKey = keyof Settings;

export const defaultSettings: Settings = {
  siteName: '',
  jobNumber: '',
  isDemo: false,
  units: 'us',
  timeZone: '',
  groundId: '',
  surfaceId: '',
  photoId: '',
  imagery: [],
  layerOrder: [],
  // 2 in and 100 ft², common practice (trade notes §3.1): survey noise makes shallower puddles.
  listMinDepthMeters: 0.0508,
  listMinAreaSquareMeters: 9.290304,
  // "Plant < 10 %" (trade notes Q9 [S9]).
  takeOffTooSteep: true,
  tooSteepSlope: 0.1,
  siteCover: 'woods-fair',
  clearedCover: 'newly-graded',
  rainFallsOn: 'as-it-is',
  waterOn: 'as-surveyed',
  lookedAt: [],
  noCulvertAt: [],
  rainTable: '',
  windStations: [],
  lanesFor: '',
  // The demo's; the real one is the state's.
  huntingSeason: [
    [10, 1],
    [1, 15],
  ],
  // Half an hour either side: common practice; the state's rule counts.
  lightBeforeSunriseMinutes: 30,
  lightAfterSunsetMinutes: 30,
  // Trade notes §6.8: 300 yd, 30, 15 and 15 degrees.
  scentRangeMeters: 274.32,
  scentLeastHalfAngleDegrees: 30,
  scentCoreHalfAngleDegrees: 15,
  scentLocalTurningDegrees: 15,
  wantsSiting: false,
  shotRules: usualShotRules,
  // Ours.
  shotHalfArcDegrees: 45,
  rainType: 'II',
  assumedSoilGroup: 'C',
  // About 0.1 in a day (trade notes Q1).
  evaporationMetersPerDay: 0.003,
  evaporationByMonth: null,
  growingSeason: [4, 10],
  waterTableUp: false,
  // 12 to 20 ft, and a quarter to half an acre: common practice (trade notes S6, Q3).
  gapWidthMeters: 4.8768,
  gapCatchmentSquareMeters: 1011.714,
  // Half an acre, from where water crossing a berm wants a gap (trade notes Q3).
  flowCatchmentSquareMeters: 2023.428,
  // 0.7 of the coarse-root ratio: trade notes §6.6.
  rootShare: 0.7,
  brittleTops: 1,
  // 0.10 to 0.20 for small wood: PNW-GTR-364. Soil "dirty" up to a tenth.
  packingRatio: 0.15,
  pileSoilShare: 0.1,
  // 12 yd³ on a tandem truck, 12 ft as high as a dozer pushes, 8 ft to turn in: common practice.
  truckLoadCubicMeters: 9.174658,
  bermMaxHeightMeters: 3.6576,
  workingStripMeters: 2.4384,
  // 300 ft, past which a dozer is the wrong machine: common practice, no source.
  pushReachMeters: 91.44,
  // 500 ft to a neighbor's dwelling, 100 ft to one's own buildings, lines and standing trees, 250 ft
  // to a road: common practice, no source.
  burnClearMeters: {
    'neighbour-dwelling': 152.4,
    'own-building': 30.48,
    'power-line': 30.48,
    'standing-trees': 30.48,
    road: 76.2,
  },
  // 75 to 95 % of clean dry piles: common practice (trade notes Q4); 90 % is their §6.6's.
  burnConsumedShare: 0.9,
  // 150 ft: common practice, no source. 26 ft: 8 m, Alberta county fire service (handbook §12.1).
  gapSpacingMeters: 45.72,
  burnGapWidthMeters: 7.9248,
  // 2.5 yd³ and 9 ft: a dozer of about 100 hp with a six-way blade, common practice, no source.
  dozerBladeLoadCubicMeters: 1.911,
  dozerBladeWidthMeters: 2.7432,
  // 100 hp.
  dozerPowerWatts: 74_570,
  dozerHourlyRate: null,
  loggedClearing: [],
  machines: [],
  dozerOperator: 'average',
};

export const settingKeys = Object.keys(schemas) as SettingKey[];

export function parseSetting<K extends SettingKey>(key: K, value: unknown): Result<Settings[K]> {
  const parsed = v.safeParse(schemas[key] as v.GenericSchema, value);
  if (parsed.success) return ok(parsed.output as Settings[K]);
  return problem(
    'setting-invalid',
    `The setting ${key} cannot be ${JSON.stringify(value)}: ${parsed.issues[0]!.message}.`,
    `The value in use stays ${JSON.stringify(defaultSettings[key])} until it is corrected.`,
    key,
  );
}
