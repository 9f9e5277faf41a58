import type { RainTable } from '../plan/rain-table.ts';
import { ok, problem, type Result } from '../result.ts';
import { splitFields } from './csv.ts';
import { readRainRows, type RainRows } from './rain-table-rows.ts';
import { linesOf } from './lines.ts';

/** A real table holds 4 kB, with its bounds 12 kB. */
const MOST_LETTERS = 1_000_000;
const METERS = { inches: 0.0254, millimeters: 0.001 } as const;

/**
 * Reads a table of rain depth by duration and return period in the public layout of NOAA Atlas 14
 * point estimates (CSV, partial-duration or annual-maximum series): a title with the unit in
 * brackets, lines about the place, `by duration for ARI (years):, 1,2,5 …`, then rows such as
 * `6-hr:, 3.23,3.70,4.50 …`. Of a file with bounds only the estimates are read. Durations go by
 * label and return periods by value, never by position.
 * An annual-maximum table names chances a year (`'1/2`); they become recurrence intervals by
 * ARI = −1 / ln(1 − AEP) (Langbein 1949, the relation that the atlas itself uses).
 * Blank cells, words such as NA, zeros and −9 fillers are missing (NaN). Depths must not fall from
 * one return period or duration to the next.
 * @param name of the file, for the message. Never throws.
 * Example: the row above gives 0.08204 m (3.23 in) for 6 h once a year.
 */
export function readRainTable(name: string, text: string): Result<RainTable> {
  if (text.length > MOST_LETTERS) {
    return refuse(
      'rain-table-too-large',
      'The file is far too large for a rainfall table.',
      'A rainfall-frequency table for one place has about 25 lines: pick that file.',
      name,
    );
  }
  if (text.trim() === '') {
    return refuse('rain-table-empty', 'The file is empty.', DOWNLOAD, name);
  }
  if (/not within a project area/i.test(text)) {
    return refuse(
      'rain-table-no-coverage',
      'The file says that the atlas does not cover that place.',
      'Ask the conservation district for the rainfall table used there, and type its numbers in this layout.',
      name,
    );
  }
  const lines = linesOf(text);
  const header = lines.findIndex(isHeader);
  if (header < 0) {
    return refuse(
      'rain-table-other-layout',
      'The file is no rainfall-frequency table: it has no line “by duration for ARI (years)”.',
      DOWNLOAD,
      name,
    );
  }
  const before = lines.slice(0, header);
  const units = unitsOf(before, name);
  if (!units.ok) return units;
  const years = returnYearsOf(lines[header]!, `${name}, line ${header + 1}`);
  if (!years.ok) return years;
  const rows = readRainRows(name, lines, header + 1, years.value, METERS[units.value]);
  return rows.ok ? ok(finished(before, units.value, years.value, rows.value)) : rows;
}

const DOWNLOAD =
  'Download the depth table for your place as CSV from the public rainfall atlas, and pick that file.';

const isHeader = (line: string) => /^"?\s*by duration for (ari|aep)\b/i.test(line);

const refuse = (code: string, what: string, wayOut: string, where: string) =>
  problem(code, what, wayOut, where);

function finished(
  before: readonly string[],
  unitsFound: RainTable['unitsFound'],
  years: readonly number[],
  { durationsHours, depthMeters, missingCells }: RainRows,
): RainTable {
  const series = before.find((line) => /time series type|^series/i.test(line)) ?? '';
  return {
    durationsHours,
    returnYears: years,
    depthMeters,
    sourceName: sourceNameOf(before),
    unitsFound,
    series: /partial/i.test(series)
      ? 'partial-duration'
      : /annual/i.test(series)
        ? 'annual-maximum'
        : 'not-said',
    missingCells,
  };
}

/** The line under the title, which names atlas, volume and version. */
function sourceNameOf(before: readonly string[]): string {
  const said = before.map((line) => line.replaceAll('"', '').trim()).filter((line) => line !== '');
  const atlas = said.find((line) => /atlas/i.test(line) && !/estimates \(/i.test(line));
  const name = atlas ?? said.find((line, i) => i > 0 && !/^[\w ()]+:/.test(line));
  return (name ?? 'rainfall table without a name').slice(0, 120);
}

function unitsOf(before: readonly string[], name: string): Result<RainTable['unitsFound']> {
  const head = before.join('\n').toLowerCase();
  const bracket = /estimates\s*\(([^)\n]*)\)/.exec(head)?.[1]?.trim() ?? '';
  if (/\/|per /.test(bracket) || /data type:[^\n]*intensity/.test(head)) {
    return refuse(
      'rain-table-intensity',
      'The file gives how fast it rains (depth per hour), not how much.',
      'Download the same table again with “precipitation depth” chosen.',
      name,
    );
  }
  if (/^(in|inch|inches)$/.test(bracket)) return ok('inches');
  if (/^(mm|millimeters|millimetres)$/.test(bracket)) return ok('millimeters');
  return refuse(
    'rain-table-unit-unknown',
    'The title of the table does not say whether its numbers are inches or millimeters.',
    'Keep the first line of the download, such as “Point precipitation frequency estimates (inches)”.',
    name,
  );
}

/** Years of the header's columns: `1`, `2` …, or `'1/2` as a chance a year. */
function returnYearsOf(line: string, where: string): Result<number[]> {
  const fields = splitFields(line, ',').slice(1);
  while (fields.length > 0 && fields.at(-1) === '') fields.pop();
  const years = fields.map(yearsOfColumn);
  const rising = years.every((year, i) => year > 0 && (i === 0 || year > years[i - 1]!));
  if (years.length > 0 && years.length <= 100 && rising) return ok(years);
  return problem(
    'rain-table-columns',
    'The line of return periods does not hold rising numbers of years.',
    'It should read like “by duration for ARI (years):, 1,2,5,10,25,50,100”.',
    where,
  );
}

function yearsOfColumn(field: string): number {
  const chance = /^'?1\s*\/\s*(\d{1,6}(?:\.\d+)?)$/.exec(field);
  if (chance) return -1 / Math.log1p(-1 / Number(chance[1]));
  return /^\d{1,6}(\.\d+)?$/.test(field) ? Number(field) : NaN;
}
