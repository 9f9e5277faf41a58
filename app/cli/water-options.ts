import { squareMetersFromAcres, squareMetersFromSquareFeet } from '../../geo/frame/units.ts';
import { defaultSettings } from '../../geo/plan/settings.ts';
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
  out: { type: 'string' },
} as const;

export const waterOptionsHelp = `  --rain DEPTH          such as 2.1in, 53mm; a bare number is inches
  --cn NUMBER           curve number of the whole ground, 30 to 100; default 73, woods in fair
                        condition on soil group C
  --duration HOURS      how long the rain lasts; said again in the JSON, it changes no volume
  --ksat M_PER_S        how fast standing water soaks in, metres a second; default the slow end of
                        soil group C
  --evaporation DEPTH   on a day of the growing season; default 3 mm
  --month NUMBER        of the storm, 1 to 12: evaporation as in that month; without it, as on a
                        day of the growing season, April to October
  --min-depth DEPTH     shallower low spots are left out of the list; default 2 in
  --min-area AREA       smaller ones too, such as 100ft2, 9m2 or 0.1ac; default 100 ft2
  --out DIR             writes depth.tif and low-spots.geojson there`;

type Values = Readonly<Partial<Record<keyof typeof waterOptions, string>>>;

export interface WaterChoices {
  readonly rainMeters: number;
  readonly durationHours: number;
  readonly curveNumber: number;
  readonly intakeMetersPerSecond: number;
  readonly evaporationMetersPerDay: number;
  readonly minDepthMeters: number;
  readonly minAreaSquareMeters: number;
}

/** More rain than ever fell in a storm is a slip of the pen. */
const MOST_RAIN_METERS = 5;

export function waterChoices(values: Values): WaterChoices {
  if (values.rain === undefined) throw wrongUsage('Say the rain with --rain.', 'water');
  const groupC = { group: 'C', drained: false } as const;
  const unknown = { surfaceKsatMetersPerSecond: null, restrictingKsatMetersPerSecond: null };
  return {
    rainMeters: lengthOf('rain', values.rain, MOST_RAIN_METERS),
    durationHours: numberOf('duration', values.duration?.replace(/\s*h$/, '') ?? '24', 0.01, 240),
    curveNumber: numberOf('cn', values.cn ?? '73', 30, 100),
    intakeMetersPerSecond:
      values.ksat === undefined
        ? intakeMetersPerSecond({ ...groupC, ...unknown })
        : numberOf('ksat', values.ksat, 0, 0.1),
    evaporationMetersPerDay: evaporationOf(values),
    minDepthMeters:
      values['min-depth'] === undefined
        ? defaultSettings.listMinDepthMeters
        : lengthOf('min-depth', values['min-depth'], 100),
    minAreaSquareMeters:
      values['min-area'] === undefined
        ? defaultSettings.listMinAreaSquareMeters
        : areaOf(values['min-area']),
  };
}

function evaporationOf(values: Values): number {
  const growingDay =
    values.evaporation === undefined
      ? defaultSettings.evaporationMetersPerDay
      : lengthOf('evaporation', values.evaporation, 0.05);
  if (values.month === undefined) return growingDay;
  const month = numberOf('month', values.month, 1, 12);
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

function areaOf(text: string): number {
  const found = /^(\d+(?:\.\d+)?)\s*(m2|ft2|ac)?$/.exec(text.trim());
  const unit = areaUnits[found?.[2] ?? ''];
  if (found && unit) return unit(Number(found[1]));
  throw new CliProblem(
    `--min-area cannot be "${text}". Write an area such as 100ft2, 9m2 or 0.1ac.`,
    1,
  );
}
