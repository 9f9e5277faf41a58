import { deflateSync, inflateSync } from 'fflate';
import type { WindRecord } from '../../plan/wind-record.ts';
import { ok, problem, type Result } from '../../result.ts';

/**
 * A record of wind as text for the plan: minutes since 1970 as differences, directions in half
 * degrees, speeds and gusts in twentieths of a metre a second, cloud in hundredths, ceilings in
 * tens of metres; each column as 16-bit numbers, deflated, in base 64.
 */

const NONE = 0xffff;
const CALM_STEP = 1 / 20;
/** Longer than this between two rows is written as several steps of it. */
const LONGEST_STEP = 0xfffe;
const VERSION = 1;

interface Column {
  readonly get: (record: WindRecord, i: number) => number;
  readonly unit: number;
}

const columns: readonly Column[] = [
  { get: (record, i) => record.fromDegrees[i]!, unit: 0.5 },
  { get: (record, i) => record.speedMetersPerSecond[i]!, unit: CALM_STEP },
  { get: (record, i) => record.gustMetersPerSecond[i]!, unit: CALM_STEP },
  { get: (record, i) => record.cloudShare[i]!, unit: 0.01 },
  { get: (record, i) => record.ceilingMeters[i]!, unit: 10 },
];

/** Infinity (no ceiling) is the greatest number that is not missing. */
const HIGHEST = NONE - 1;

/** Throws RangeError for a record before 1970 or after 2100. */
export function packRecord(record: WindRecord): string {
  const { count, timeSeconds } = record;
  const header = new Uint32Array([VERSION, count, minuteOf(timeSeconds[0] ?? 0), 0]);
  const words = new Uint16Array((columns.length + 1) * count);
  const steps: number[] = [];
  for (let i = 1; i < count; i++) {
    const step = minuteOf(timeSeconds[i]!) - minuteOf(timeSeconds[i - 1]!);
    words[i] = Math.min(step, LONGEST_STEP);
    if (step > LONGEST_STEP) steps.push(i, step);
  }
  columns.forEach(({ get, unit }, k) => {
    for (let i = 0; i < count; i++) words[(k + 1) * count + i] = worded(get(record, i), unit);
  });
  header[3] = steps.length;
  const bytes = new Uint8Array(header.byteLength + steps.length * 4 + words.byteLength);
  bytes.set(new Uint8Array(header.buffer));
  bytes.set(new Uint8Array(new Uint32Array(steps).buffer), header.byteLength);
  bytes.set(new Uint8Array(words.buffer), header.byteLength + steps.length * 4);
  return toBase64(deflateSync(bytes, { level: 9 }));
}

/** The record again; problem `wind-record-damaged` for a text that is none. */
export function unpackRecord(text: string): Result<WindRecord> {
  try {
    const bytes = inflateSync(fromBase64(text));
    const header = new Uint32Array(bytes.slice(0, 16).buffer);
    const [version, count, first, longs] = header as unknown as [number, number, number, number];
    const from = 16 + longs * 4;
    if (version !== VERSION || bytes.length !== from + (columns.length + 1) * count * 2) return damaged(); // prettier-ignore
    const steps = new Uint32Array(bytes.slice(16, from).buffer);
    const words = new Uint16Array(bytes.slice(from).buffer);
    const long = new Map<number, number>();
    for (let i = 0; i < steps.length; i += 2) long.set(steps[i]!, steps[i + 1]!);
    const timeSeconds = new Float64Array(count);
    let minute = first;
    for (let i = 0; i < count; i++) {
      if (i > 0) minute += long.get(i) ?? words[i]!;
      timeSeconds[i] = minute * 60;
    }
    const [fromDegrees, speed, gust, cloud, ceiling] = columns.map(({ unit }, k) =>
      Float32Array.from({ length: count }, (_, i) => numberOf(words[(k + 1) * count + i]!, unit)),
    ) as [Float32Array, Float32Array, Float32Array, Float32Array, Float32Array];
    return ok({
      count,
      timeSeconds,
      fromDegrees,
      speedMetersPerSecond: speed,
      gustMetersPerSecond: gust,
      cloudShare: cloud,
      ceilingMeters: ceiling,
    });
  } catch {
    return damaged();
  }
}

function damaged(): Result<never> {
  return problem(
    'wind-record-damaged',
    'The wind record in the plan cannot be read.',
    'Open its file again.',
  );
}

function minuteOf(seconds: number): number {
  const minute = Math.round(seconds / 60);
  if (!(minute >= 0 && minute < 7e7)) throw new RangeError(`a record at ${seconds} s`);
  return minute;
}

function worded(value: number, unit: number): number {
  if (Number.isNaN(value)) return NONE;
  return Math.min(HIGHEST, Math.max(0, Math.round(value / unit)));
}

function numberOf(word: number, unit: number): number {
  if (word === NONE) return NaN;
  return word === HIGHEST ? Infinity : word * unit;
}

const CHUNK = 0x8000;

function toBase64(bytes: Uint8Array): string {
  let text = '';
  for (let i = 0; i < bytes.length; i += CHUNK) {
    text += String.fromCharCode(...bytes.subarray(i, i + CHUNK));
  }
  return btoa(text);
}

function fromBase64(text: string): Uint8Array {
  const raw = atob(text);
  return Uint8Array.from(raw, (letter) => letter.charCodeAt(0));
}
