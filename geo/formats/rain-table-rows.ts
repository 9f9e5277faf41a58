import { ok, problem, type Result } from '../result.ts';
import { isNumberText, splitFields } from './csv.ts';

/** The rows under the header of a rainfall table. */
export interface RainRows {
  readonly durationsHours: readonly number[];
  readonly depthMeters: readonly (readonly number[])[];
  readonly missingCells: number;
}

const HOURS = { min: 1 / 60, hr: 1, hour: 1, day: 24 } as const;
const LABEL = /^(\d{1,5}(?:\.\d+)?)[\s-]*(min|hr|hour|day)(?:ute)?s?\s*:?$/i;
const MISSING = /^(|-+|n\/?a|nan|null|m|\*+|none)$/i;
/** No place on earth has had so much in 60 days: more is another unit. */
const MOST_METERS = 25;

/**
 * Rows of a rainfall table from line `first` on, up to the first line that is no row.
 * @param metersPerUnit of the numbers
 * Refuses a row with another count of numbers than the header, a number below 0 that is no filler,
 * words, a table without a number, and depths that fall along a row or down a column.
 */
export function readRainRows(
  name: string,
  lines: readonly string[],
  first: number,
  years: readonly number[],
  metersPerUnit: number,
): Result<RainRows> {
  const rows: { hours: number; depths: number[]; label: string; where: string }[] = [];
  for (let i = first; i < lines.length; i++) {
    const fields = splitFields(lines[i]!, ',');
    const label = LABEL.exec(fields[0]!);
    if (!label) {
      if (fields.join('') === '' && rows.length === 0) continue;
      break;
    }
    const where = `${name}, line ${i + 1}`;
    const cells = fields.slice(1);
    while (cells.length > years.length && cells.at(-1) === '') cells.pop();
    if (cells.length !== years.length) {
      return problem(
        'rain-table-row-length',
        `The row “${fields[0]!.slice(0, 20)}” has ${cells.length} numbers for ${years.length} return periods.`,
        'Leave a blank between commas where a number is missing, or download the table again.',
        where,
      );
    }
    const depths = cells.map((cell) => depthOf(cell, metersPerUnit));
    const wrong = depths.findIndex((depth) => depth === null);
    if (wrong >= 0) return notADepth(cells[wrong]!, where);
    const hours = Number(label[1]) * HOURS[label[2]!.toLowerCase() as keyof typeof HOURS];
    rows.push({ hours, depths: depths as number[], label: fields[0]!, where });
  }
  rows.sort((a, b) => a.hours - b.hours);
  const twice = rows.find((row, i) => !(row.hours > 0) || row.hours === rows[i - 1]?.hours);
  if (twice) {
    return problem(
      'rain-table-durations',
      `The duration “${twice.label.slice(0, 20)}” stands there twice, or is 0.`,
      'Keep one row for each duration.',
      twice.where,
    );
  }
  const missingCells = rows.reduce((n, row) => n + row.depths.filter(Number.isNaN).length, 0);
  if (missingCells === rows.length * years.length) {
    return problem(
      'rain-table-no-numbers',
      'The rainfall table holds no numbers.',
      'Under the line of return periods there should be rows such as “6-hr:, 1.70,2.05”.',
      name,
    );
  }
  const fall = rows.find((row, i) => falls(row.depths) || fallsBelow(row.depths, rows.slice(0, i)));
  if (fall) {
    return problem(
      'rain-table-falls',
      `In the row “${fall.label.slice(0, 20)}” a rarer or longer rain is given as the smaller one.`,
      'Check the numbers of that row and the one before, or download the table again.',
      fall.where,
    );
  }
  return ok({
    durationsHours: rows.map((row) => row.hours),
    depthMeters: rows.map((row) => row.depths),
    missingCells,
  });
}

/** Meters, NaN where missing, null where it is no depth. */
function depthOf(cell: string, metersPerUnit: number): number | null {
  if (MISSING.test(cell)) return NaN;
  if (!isNumberText(cell)) return null;
  const value = Number(cell);
  if (value === 0 || /^-9+(\.9*0*)?$/.test(cell)) return NaN;
  const meters = value * metersPerUnit;
  return meters > 0 && meters <= MOST_METERS ? meters : null;
}

function notADepth(cell: string, where: string): Result<never> {
  return problem(
    'rain-table-not-a-depth',
    `“${cell.slice(0, 20)}” is no depth of rain.`,
    'Correct the number, or leave it blank when it is not known.',
    where,
  );
}

function falls(depths: readonly number[]): boolean {
  let before = 0;
  for (const depth of depths) {
    if (Number.isNaN(depth)) continue;
    if (depth < before) return true;
    before = depth;
  }
  return false;
}

/** Whether a longer rain is less than the last known shorter one of the same return period. */
function fallsBelow(
  depths: readonly number[],
  shorter: readonly { readonly depths: readonly number[] }[],
): boolean {
  return depths.some((depth, column) => {
    const last = shorter.findLast((row) => !Number.isNaN(row.depths[column]!));
    return last !== undefined && depth < last.depths[column]!;
  });
}
