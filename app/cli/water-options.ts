import { squareMetersFromAcres, squareMetersFromSquareFeet } from '../../geo/frame/units.ts';
import { defaultConditions, type Conditions } from '../../geo/plan/conditions.ts';
import { defaultSettings, type Settings } from '../../geo/plan/settings.ts';
import { evaporationByMonth } from '../../geo/water/evaporation.ts';
import { intakeMetersPerSecond } from '../../geo/water/infiltration.ts';
import { parseLength } from '../words/parse-measure.ts';
import { CliProblem, wrongUsage } from './cli-problem.ts';

/** Options of a storm on a bare ground. */
export const waterOptions = {
  rain: { type: 'string' },
  cn: { type: 'string' },
  duration: { type: 'string' },
  ksat: { type: 'string' },
  evaporation: { type: 'string' },
  month: { type: 'string' },
  'min-depth': { type: 'string' },
  'min-area': { type: 'string' },
  'vertical-error': { type: 'string' },
  'flow-area': { type: 'string' },
  'as-surveyed': { type: 'boolean' },
  ground: { type: 'string' },
  out: { type: 'string' },
} as const;

export const waterOptionsHelp = `  --rain DEPTH          such as 2.1in, 53mm; a bare number is inches
  --cn NUMBER           curve number of the whole ground, 30 to 100; default 73, woods in fair
                        condition on soil group C
  --duration HOURS      how long the rain lasts; said again in the JSON, it changes no volume;
                        default 6, as on the page
  --ksat M_PER_S        how fast standing water soaks in, metres a second; default the slow end of
                        soil group C
  --evaporation DEPTH   on a day of the growing season; default 3 mm
  --month NUMBER        of the storm, 1 to 12: evaporation as in that month; default 11, the month
                        that the page begins with
  --min-depth DEPTH     shallower low spots are left out of the list; default 2 in
  --vertical-error DEPTH
                        one standard error of the survey's heights: low spots shallower than that are
                        never listed. Without it, as on the page, 0.1 m is assumed with cells up to
                        1.5 m, 0.5 m up to 5 m, else 1.5 m
  --min-area AREA       smaller ones too, such as 100ft2, 9m2 or 0.1ac; default 100 ft2
  --flow-area AREA      flow lines are traced from where so much drains through one place; default
                        half an acre
  --out DIR             writes depth.tif, low-spots.geojson and flow-lines.geojson there
  --as-surveyed         of a project: leaves what is drawn off its ground
  --ground FILE         of a project: the ground to answer from; the first if not named`;

export type WaterValues = Readonly<
  Partial<Record<Exclude<keyof typeof waterOptions, 'as-surveyed'>, string>>
> & { readonly 'as-surveyed'?: boolean };

export interface WaterChoices {
  readonly rainMeters: number;
  readonly durationHours: number;
  readonly curveNumber: number;
  readonly intakeMetersPerSecond: number;
  readonly evaporationMetersPerDay: number;
  readonly minDepthMeters: number;
  /** Null: nobody stated it. */
  readonly verticalErrorMeters: number | null;
  readonly minAreaSquareMeters: number;
  readonly flowCatchmentSquareMeters: number;
}

/** More rain than ever fell in a storm is a slip of the pen. */
const MOST_RAIN_METERS = 5;

export function waterChoices(values: WaterValues): WaterChoices {
  if (values.rain === undefined) throw wrongUsage('Say the rain with --rain.', 'water');
  for (const name of ['as-surveyed', 'ground'] as const) {
    if (values[name] !== undefined) throw wrongUsage(`--${name} is for a project.`, 'water');
  }
  const groupC = { group: 'C', drained: false } as const;
  const unknown = { surfaceKsatMetersPerSecond: null, restrictingKsatMetersPerSecond: null };
  return {
    rainMeters: lengthOf('rain', values.rain, MOST_RAIN_METERS),
    durationHours: hoursOf(values.duration ?? String(defaultConditions.rain.durationHours)),
    curveNumber: numberOf('cn', values.cn ?? '73', 30, 100),
    intakeMetersPerSecond:
      values.ksat === undefined
        ? intakeMetersPerSecond({ ...groupC, ...unknown })
        : numberOf('ksat', values.ksat, 0, 0.1),
    evaporationMetersPerDay: evaporationOf(values),
    verticalErrorMeters:
      values['vertical-error'] === undefined
        ? null
        : lengthOf('vertical-error', values['vertical-error'], 100),
    ...listChoices(values, defaultSettings),
  };
}

/** Limits of the list and of flow lines, as said or as they are in `settings`. */
function listChoices(values: WaterValues, settings: Settings) {
  const { 'min-depth': depth, 'min-area': area, 'flow-area': flow } = values;
  return {
    minDepthMeters:
      depth === undefined ? settings.listMinDepthMeters : lengthOf('min-depth', depth, 100),
    minAreaSquareMeters:
      area === undefined ? settings.listMinAreaSquareMeters : areaOf('min-area', area, 0),
    flowCatchmentSquareMeters:
      flow === undefined ? settings.flowCatchmentSquareMeters : areaOf('flow-area', flow, 1),
  };
}

/** What a plan brings along itself. */
const ofThePlan = ['cn', 'ksat', 'evaporation', 'month', 'vertical-error'] as const;

/** A project's own settings and rain, but for what the options say. */
export function planChoices(
  values: WaterValues,
  { settings, conditions }: { readonly settings: Settings; readonly conditions: Conditions },
) {
  for (const name of ofThePlan) {
    if (values[name] !== undefined) {
      throw wrongUsage(`--${name} is for a bare ground: a project has its own.`, 'water');
    }
  }
  const { rain, duration } = values;
  const { minDepthMeters, minAreaSquareMeters, flowCatchmentSquareMeters } = listChoices(values, settings); // prettier-ignore
  return {
    settings: {
      ...settings,
      waterOn: values['as-surveyed'] ? ('as-surveyed' as const) : ('with-the-plan' as const),
      listMinDepthMeters: minDepthMeters,
      listMinAreaSquareMeters: minAreaSquareMeters,
      flowCatchmentSquareMeters,
    },
    conditions: {
      ...conditions,
      rain: {
        ...conditions.rain,
        ...(rain !== undefined && { depthMeters: lengthOf('rain', rain, MOST_RAIN_METERS) }),
        ...(duration !== undefined && { durationHours: hoursOf(duration) }),
      },
    },
  };
}

function hoursOf(text: string): number {
  return numberOf('duration', text.replace(/\s*h$/, ''), 0.01, 240);
}

function evaporationOf(values: WaterValues): number {
  const growingDay =
    values.evaporation === undefined
      ? defaultSettings.evaporationMetersPerDay
      : lengthOf('evaporation', values.evaporation, 0.05);
  const month = numberOf('month', values.month ?? defaultConditions.hourUtc.slice(5, 7), 1, 12);
  if (!Number.isInteger(month)) {
    throw new CliProblem(`--month cannot be "${values.month}". Write a whole number from 1 to 12.`, 1); // prettier-ignore
  }
  return evaporationByMonth(growingDay, defaultSettings.growingSeason)[month - 1]!;
}

function lengthOf(name: string, text: string, most: number): number {
  const meters = parseLength(text, 'in');
  if (meters !== null && meters <= most) return meters;
  throw new CliProblem(
    `--${name} cannot be "${text}". Write a depth from 0 to ${most} m, such as 2.1in or 53mm.`,
    1,
  );
}

function numberOf(name: string, text: string, least: number, most: number): number {
  const value = Number(text);
  if (text.trim() !== '' && value >= least && value <= most) return value;
  throw new CliProblem(
    `--${name} cannot be "${text}". Write a number from ${least} to ${most}.`,
    1,
  );
}

const areaUnits: Readonly<Record<string, (value: number) => number>> = {
  '': (value) => value,
  m2: (value) => value,
  ft2: squareMetersFromSquareFeet,
  ac: squareMetersFromAcres,
};

function areaOf(name: string, text: string, least: number): number {
  const found = /^(\d+(?:\.\d+)?)\s*(m2|ft2|ac)?$/.exec(text.trim());
  const unit = areaUnits[found?.[2] ?? ''];
  const area = found && unit ? unit(Number(found[1])) : NaN;
  if (area >= least) return area;
  throw new CliProblem(
    `--${name} cannot be "${text}". Write an area such as 100ft2, 9m2 or 0.1ac.`,
    1,
  );
}
