import * as v from 'valibot';
import { imageryList, layerOrder } from './imagery.ts';
import { ok, problem, type Result } from '../result.ts';

const degrees = v.pipe(v.number(), v.minValue(-180), v.maxValue(180));

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
  /** A rainfall-frequency table as it was read, in its own text; empty means none. */
  rainTable: v.pipe(v.string(), v.maxLength(20_000)),
  /** Where no soil area is drawn. */
  assumedSoilGroup: v.picklist(['A', 'B', 'C', 'D']),
  evaporationMetersPerDay: v.pipe(v.number(), v.minValue(0), v.maxValue(0.05)),
  /** While it is, nothing soaks in. */
  waterTableUp: v.boolean(),
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
  rainTable: '',
  assumedSoilGroup: 'C',
  // About 0.1 in a day (trade notes Q1).
  evaporationMetersPerDay: 0.003,
  waterTableUp: false,
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
