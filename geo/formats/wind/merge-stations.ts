import type { WindRecord, WindStation, WindTally } from '../../plan/wind-record.ts';
import { recordCounts } from './record-counts.ts';

const HOUR = 3600;
const COLUMNS = [
  'fromDegrees',
  'speedMetersPerSecond',
  'gustMetersPerSecond',
  'cloudShare',
  'ceilingMeters',
] as const;
const SUMMED = [
  'rows',
  'missing',
  'suspect',
  'outOfRange',
  'unreadableTime',
  'summaries',
  'duplicates',
  'specials',
  'synoptics',
  'moreInHour',
] as const;

/**
 * Puts records of the same station together, as archives give a file a year: one station an id, in
 * the order in which ids first come, each hour once. Of two rows of one hour the one of the earlier
 * file stays and the other counts as a duplicate. What one file does not say of the place another may.
 */
export function mergeStations(stations: readonly WindStation[]): WindStation[] {
  const byId = new Map<string, WindStation[]>();
  for (const station of stations) {
    const held = byId.get(station.id);
    if (held) held.push(station);
    else byId.set(station.id, [station]);
  }
  return [...byId.values()].map((parts) => (parts.length === 1 ? parts[0]! : mergedStation(parts)));
}

function mergedStation(parts: readonly WindStation[]): WindStation {
  const record = mergedRecord(parts.map((part) => part.record));
  const sums = Object.fromEntries(
    SUMMED.map((key) => [key, parts.reduce((sum, { tally }) => sum + tally[key], 0)]),
  ) as Pick<WindTally, (typeof SUMMED)[number]>;
  const rows = parts.reduce((sum, part) => sum + part.record.count, 0);
  const first = <K extends 'name' | 'longitude' | 'latitude' | 'elevationMeters'>(key: K) =>
    parts.find((part) => part[key] !== null)?.[key] ?? null;
  return {
    id: parts[0]!.id,
    name: first('name'),
    longitude: first('longitude'),
    latitude: first('latitude'),
    elevationMeters: first('elevationMeters'),
    record,
    tally: {
      ...sums,
      duplicates: sums.duplicates + rows - record.count,
      ...recordCounts(record),
    },
  };
}

function mergedRecord(records: readonly WindRecord[]): WindRecord {
  const total = records.reduce((sum, { count }) => sum + count, 0);
  const time = new Float64Array(total);
  const columns = COLUMNS.map(() => new Float32Array(total));
  const heads = new Uint32Array(records.length);
  let count = 0;
  let lastHour = -Infinity;
  for (;;) {
    // The earliest hour; of equal ones the one of the earlier file.
    let next = -1;
    let earliest = Infinity;
    records.forEach((record, k) => {
      if (heads[k]! === record.count) return;
      const hour = Math.floor(record.timeSeconds[heads[k]!]! / HOUR);
      if (hour < earliest) [next, earliest] = [k, hour];
    });
    if (next < 0) break;
    const record = records[next]!;
    const i = heads[next]!++;
    if (earliest === lastHour) continue;
    lastHour = earliest;
    time[count] = record.timeSeconds[i]!;
    COLUMNS.forEach((name, c) => (columns[c]![count] = record[name][i]!));
    count++;
  }
  const [from, speed, gust, cloud, ceiling] = columns.map((column) => column.slice(0, count));
  return {
    count,
    timeSeconds: time.slice(0, count),
    fromDegrees: from!,
    speedMetersPerSecond: speed!,
    gustMetersPerSecond: gust!,
    cloudShare: cloud!,
    ceilingMeters: ceiling!,
  };
}
