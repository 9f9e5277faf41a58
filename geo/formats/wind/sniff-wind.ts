import {
  isPassedOver,
  readTableShape,
  splitFields,
  type Delimiter,
  type TableShape,
} from '../csv.ts';
import { problem, type Result } from '../../result.ts';
import type { WindLayout } from './wind-opening.ts';
import { linesOf } from '../lines.ts';

/** What the head of a wind record shows. */
export interface WindHead {
  readonly layout: WindLayout;
  /** The file's own column names, or null where it has none. */
  readonly names: readonly string[] | null;
  readonly delimiter: Delimiter;
  /** Up to 20 rows of data, as text; none for fixed columns. */
  readonly rows: readonly (readonly string[])[];
  /** Line of the first row of data, from 1. */
  readonly firstDataLine: number;
}

const NO_COLUMN_OUT =
  'Download the record again with wind direction and wind speed chosen, and pick that file.';

/**
 * Tells the layout of a wind record from its head by content: the names of its columns, or the
 * build of its fixed-width lines; any other table with two columns of numbers is `columns`, to be
 * chosen by the user. A known layout without its wind columns is a problem.
 * @param head text of the first lines, the last one whole. Never throws.
 */
export function sniffWind(name: string, head: string): Result<WindHead> {
  const lines = linesOf(head);
  const first = lines.findIndex((line) => !isPassedOver(line));
  if (first < 0) {
    return problem('wind-empty', 'The file holds no line.', 'Download the record again.', name);
  }
  const line = lines[first]!;
  // No text holds letters below the tab.
  if ([...line].some((letter) => letter < '\t')) {
    const what = 'The file is not text.';
    return problem('wind-not-text', what, 'Unpack it first, and pick the text inside.', name);
  }
  const fixed = { names: null, delimiter: ',', rows: [], firstDataLine: first + 1 } as const;
  if (/^W(98|13)[\d ]{6}\d{8}/.test(line)) return ok({ layout: 'fire-weather', ...fixed });
  if (/^\d{4}[\dA-Z]{6}\d{17}.[+-]\d{5}[+-]\d{6}/.test(line)) {
    return ok({ layout: 'isd-fixed', ...fixed });
  }
  for (const delimiter of [',', '|', '\t'] as const) {
    const names = splitFields(line, delimiter);
    const known = layoutOf(names.map((text) => text.toLowerCase()));
    if (known === null) continue;
    if (!known.hasWind) {
      const what = 'The record has no column of wind direction and speed.';
      return problem('wind-no-column', what, NO_COLUMN_OUT, name);
    }
    const data = lines.slice(first + 1).filter((text) => !isPassedOver(text));
    const rows = data.slice(0, 20).map((text) => splitFields(text, delimiter));
    return ok({ layout: known.layout, names, delimiter, rows, firstDataLine: first + 2 });
  }
  const shape = anyTable(name, head);
  if (!shape) {
    const what = 'The file holds no table with a column of wind direction and one of speed.';
    return problem('wind-no-column', what, NO_COLUMN_OUT, name);
  }
  const { names, delimiter, rows, firstDataLine } = shape;
  return ok({ layout: 'columns', names, delimiter, rows, firstDataLine });
}

const ok = (value: WindHead): Result<WindHead> => ({ ok: true, value });

/** A table with two columns of numbers, or one where directions are words. */
function anyTable(name: string, head: string): TableShape | null {
  for (const least of [2, 1]) {
    const shape = readTableShape(name, head, least, true);
    if (shape.ok && shape.value.columnCount >= 3) return shape.value;
  }
  return null;
}

function layoutOf(names: readonly string[]): { layout: WindLayout; hasWind: boolean } | null {
  const has = (...wanted: string[]) => wanted.every((name) => names.includes(name));
  if (has('valid') || has('valid(utc)')) {
    return { layout: 'metar-archive', hasWind: has('drct', 'sknt') || has('metar') };
  }
  if (has('station', 'date') && names.some((name) => name.startsWith('hourly'))) {
    const hasWind = has('hourlywinddirection', 'hourlywindspeed');
    return { layout: 'local-climatological', hasWind };
  }
  const isPipe = names.some((name) => name.endsWith('_measurement_code'));
  if (isPipe) return { layout: 'hourly-pipe', hasWind: has('wind_direction', 'wind_speed') };
  if (has('station', 'date') && (has('wnd') || has('cig', 'vis') || has('quality_control'))) {
    return { layout: 'global-hourly', hasWind: has('wnd') };
  }
  return null;
}
