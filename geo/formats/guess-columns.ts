import type { LinearUnit } from '../frame/crs-types.ts';
import { ok, problem, type Result } from '../result.ts';
import { isNumberText, numberColumns, type TableShape } from './csv.ts';
import type { PointPreview } from './point-columns.ts';

const X = /^(x|e|east|easting|eastings|xcoord|xcoordinate|pointx|lon|long|lng|longitude)$/;
const Y = /^(y|n|north|northing|northings|ycoord|ycoordinate|pointy|lat|latitude)$/;
const Z =
  /^(z|elev|elevation|height|h|alt|altitude|ele|pointz|zcoord|orthoheight|orthometricheight)$/;
const DEGREES = /^(lon|long|lng|longitude|lat|latitude)$/;
const UNIT =
  /\b(us survey f(oo|ee)t|usft|ftus|us ft|survey f(oo|ee)t|sft|int f(oo|ee)t|ift|f(oo|ee)t|ft|m|met(er|re)s?)\b/;

/**
 * Says which column of a table of points is easting, northing and height: by names where there are
 * names, else by the survey trade's habits (P,N,E,Z,D: point number, northing FIRST, easting, height,
 * description; three bare columns: x, y, z). Only a guess: it goes to the user with its reason.
 * Longitude and latitude in degrees are told by name or by values that lie in North America.
 * Never throws. Example: rows `1,4000120.5,500230.1,402.2,EP` give x = 2, y = 1, z = 3.
 */
export function guessColumns(name: string, shape: TableShape): Result<PointPreview> {
  const numbers = numberColumns(shape.rows);
  const guess = byName(shape) ?? byHabit(shape, numbers);
  if (!guess) {
    const what = 'The table has fewer than three columns of numbers.';
    return problem(
      'table-no-columns',
      what,
      'Give one point a line: easting, northing, height.',
      name,
    );
  }
  return ok({ names: shape.names, rows: shape.rows.slice(0, 8), ...turnedDegrees(shape, guess) });
}

type Guess = Pick<PointPreview, 'guess' | 'reason'>;

function byName(shape: TableShape): Guess | null {
  if (!shape.names) return null;
  const words = shape.names.map(bareName);
  const find = (pattern: RegExp) => words.findIndex((word) => pattern.test(word));
  const [x, y, z] = [find(X), find(Y), find(Z)];
  if (x < 0 || y < 0 || z < 0) return null;
  const degrees = DEGREES.test(words[x]!) && DEGREES.test(words[y]!);
  return { guess: { x, y, z, degrees }, reason: 'The file names its columns.' };
}

function byHabit(shape: TableShape, numbers: readonly number[]): Guess | null {
  if (numbers.length < 3) return null;
  const [a, b, c, d] = numbers as [number, number, number, number?];
  const ids = shape.rows.map((row) => row[a] ?? '');
  const pointNumbers =
    d !== undefined &&
    a === 0 &&
    new Set(ids).size === ids.length &&
    ids.every((t) => /^\d{1,7}$/.test(t));
  if (pointNumbers) {
    const reason = 'The first column counts points, so northing is taken to come before easting.';
    return { guess: { x: c, y: b, z: d, degrees: false }, reason };
  }
  if (a === 1) {
    const reason = 'The first column names points, so northing is taken to come before easting.';
    return { guess: { x: b, y: a, z: c, degrees: false }, reason };
  }
  const reason = 'The columns have no names, so they are taken as easting, northing, height.';
  return { guess: { x: a, y: b, z: c, degrees: false }, reason };
}

/** Puts degrees the right way round and names them as degrees, where the values leave no doubt. */
function turnedDegrees(shape: TableShape, { guess, reason }: Guess): Guess {
  const value = (column: number) =>
    shape.rows
      .map((row) => row[column] ?? '')
      .filter(isNumberText)
      .map(Number);
  const isLongitude = (values: number[]) =>
    values.length > 0 && values.every((v) => v > -180 && v < -50);
  const isLatitude = (values: number[]) =>
    values.length > 0 && values.every((v) => v > 13 && v < 84);
  const [x, y] = [value(guess.x), value(guess.y)];
  if (isLongitude(x) && isLatitude(y)) return { guess: { ...guess, degrees: true }, reason };
  if (isLongitude(y) && isLatitude(x)) {
    return {
      guess: { x: guess.y, y: guess.x, z: guess.z, degrees: true },
      reason:
        'Latitude and longitude stand the other way round than their place says; they are taken by their values.',
    };
  }
  return { guess, reason };
}

/** Height unit that the name of the height column states; plain feet are two units, so they state none. */
export function unitInName(columnName: string): LinearUnit | null {
  const unit = UNIT.exec(words(columnName))?.[1];
  if (unit === undefined) return null;
  if (unit.startsWith('m')) return 'metre';
  if (/us|survey|sft/.test(unit)) return 'us-survey-foot';
  return unit.startsWith('i') ? 'international-foot' : null;
}

const words = (name: string) =>
  name
    .toLowerCase()
    .replace(/[^a-z]+/g, ' ')
    .trim();
const bareName = (name: string) =>
  words(name)
    .replace(UNIT, '')
    .replace(/[^a-z]/g, '');
