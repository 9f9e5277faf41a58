import { ok, problem, type Result } from '../../result.ts';
import { findDirection } from './read-direction.ts';
import { cut, findDistance, type Found } from './read-distance.ts';

/** One course of a deed: a straight run, or a curve by its chord and radius. */
export interface SurveyCall {
  /** Degrees clockwise from the deed's own north; of a curve, of its chord. */
  readonly bearingDegrees: number;
  /** Of a curve, its chord. */
  readonly distanceMeters: number;
  /** Null where the course is straight. Radius in metres, turning to the left or right. */
  readonly curve: { readonly radiusMeters: number; readonly turns: 'left' | 'right' } | null;
  /** The words it was read from. */
  readonly text: string;
}

export interface SurveyCalls {
  readonly calls: readonly SurveyCall[];
  /** Stretches of words that hold neither a direction nor a distance. */
  readonly leftOut: readonly string[];
}

/** One stretch of the text. */
export interface ReadCourse {
  readonly words: string;
  /** Null where the words hold neither a direction nor a distance. */
  readonly read: Result<SurveyCall> | null;
}

/**
 * Reads the courses of a metes-and-bounds description from plain text, one to a line, or parted by
 * semicolons or the word "thence". A direction is a quadrant bearing (`N 45°30'15" E`,
 * `S 45-30 W`, `North 3.5 degrees East`, `due West`) or an azimuth (`134°30'15"`, `az 134.5`); a
 * distance is in ft, yd, mi, m, chains and links, or poles, rods or perches (16.5 ft), and may have
 * two parts (`12 chains 40 links`). A foot is the international one; a chain is 66 of them.
 * A curve is `curve to the left, radius 200 ft, chord N 20°10' E 148 ft`, or with an arc or a delta
 * in place of the chord, then starting straight on from the course before.
 * A problem names the course that cannot be read and why. Bearings are as written: turning them
 * from magnetic or grid north is the caller's.
 */
export function readSurveyCalls(text: string): Result<SurveyCalls> {
  const calls: SurveyCall[] = [];
  const leftOut: string[] = [];
  for (const { words, read } of readCourses(text)) {
    if (read === null) leftOut.push(words);
    else if (!read.ok) return read;
    else calls.push(read.value);
  }
  if (calls.length > 0) return ok({ calls, leftOut });
  return problem(
    'calls-none',
    'No course was found in the text.',
    'Type one to a line, such as N 45°30\'15" E 200.5 ft.',
  );
}

/**
 * As above, stretch by stretch, each with its own problem: for showing while the text is typed.
 * A curve that starts straight on needs the course before it, so it cannot be read after one that
 * could not.
 */
export function readCourses(text: string): ReadCourse[] {
  let before: SurveyCall | undefined;
  return coursesOf(text).map((words) => {
    const course = tidy(words);
    const direction = findDirection(course);
    const rest = direction ? cut(course, direction) : course;
    const read = /\b(?:curve|arc)\b/i.test(course)
      ? readCurve(course, before, words)
      : readStraight(direction, findDistance(rest), words);
    if (read) before = read.ok ? read.value : undefined;
    return { words, read };
  });
}

function coursesOf(text: string): string[] {
  return text
    .split(/[\r\n;]+|\bthen(?:ce)?\b/i)
    .map((words) => words.trim())
    .filter((words) => /[a-z0-9]/i.test(words));
}

/** One way to write each sign, numbers without thousands commas. */
function tidy(words: string): string {
  return words
    .replace(/[\u00b0\u00ba\u02da]/g, '°')
    .replace(/[\u2018\u2019\u2032\u00b4`]/g, "'")
    .replace(/[\u201c\u201d\u2033]|''/g, '"')
    .replace(/(\d),(?=\d{3}(?!\d))/g, '$1')
    .replace(/[\u2010-\u2015\u2212]/g, '-');
}

/** Null where the words hold neither a direction nor a distance. */
function readStraight(
  direction: Found | null,
  distance: Found | null,
  words: string,
): Result<SurveyCall> | null {
  if (!direction && !distance) return null;
  if (!direction) return unread(words, 'has a distance but no direction');
  if (Number.isNaN(direction.value)) return unread(words, 'has a bearing that cannot be');
  if (!distance) return unread(words, 'has a direction but no distance with its unit');
  if (!(distance.value > 0)) return unread(words, 'has no length');
  return ok({
    bearingDegrees: direction.value,
    distanceMeters: distance.value,
    curve: null,
    text: words,
  });
}

function readCurve(
  course: string,
  before: SurveyCall | undefined,
  words: string,
): Result<SurveyCall> {
  const side = /\b(left|right)\b/i.exec(course)?.[1].toLowerCase();
  if (side !== 'left' && side !== 'right') return unread(words, 'does not say left or right');
  const after = (name: RegExp) => {
    const at = name.exec(course);
    return at ? course.slice(at.index + at[0].length) : null;
  };
  const radius = findDistance(after(/\bradius\b|\br\s*=/i) ?? '')?.value ?? 0;
  if (!(radius > 0)) return unread(words, 'has no radius');
  const chord = after(/\bchord\b/i);
  const direction = chord === null ? null : findDirection(chord);
  const length = direction && findDistance(cut(chord!, direction))?.value;
  let bearingDegrees = direction?.value ?? NaN;
  let distanceMeters = length ?? NaN;
  if (!direction || !length) {
    if (!before) return unread(words, 'starts without a course before it');
    const arc = findDistance(after(/\barc(?:\s+length)?\b|\blength\b|\bl\s*=/i) ?? '')?.value;
    const delta = findDirection(
      after(/\bdelta\b|\bcentral angle\b/i)?.replace(/^[\s:=,of]*/i, '') ?? '',
    );
    const turned = delta ? (delta.value * Math.PI) / 180 : arc ? arc / radius : NaN;
    if (!(turned > 0 && turned <= Math.PI)) {
      return unread(words, 'has no chord, and no arc or delta of up to half a circle');
    }
    const half = ((side === 'left' ? -1 : 1) * turned) / 2;
    bearingDegrees = leaving(before) + (half * 180) / Math.PI;
    distanceMeters = 2 * radius * Math.sin(turned / 2);
  }
  if (!(distanceMeters > 0 && distanceMeters <= 2 * radius)) {
    return unread(words, 'has a chord longer than its circle is wide');
  }
  bearingDegrees = ((bearingDegrees % 360) + 360) % 360;
  const curve = { radiusMeters: radius, turns: side } as const;
  return ok({ bearingDegrees, distanceMeters, curve, text: words });
}

/** Direction at the end of a course. */
function leaving({ bearingDegrees, distanceMeters, curve }: SurveyCall): number {
  if (!curve) return bearingDegrees;
  const half = (Math.asin(distanceMeters / (2 * curve.radiusMeters)) * 180) / Math.PI;
  return bearingDegrees + (curve.turns === 'right' ? half : -half);
}

function unread(words: string, why: string): Result<never> {
  return problem(
    'call-unread',
    `The course "${words}" ${why}.`,
    'Write it like N 45°30\'15" E 200.5 ft.',
    words,
  );
}
