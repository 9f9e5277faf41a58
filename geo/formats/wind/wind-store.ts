import type { WindRecord, WindTally } from '../../plan/wind-record.ts';
import { recordCounts } from './record-counts.ts';
import { SPECIAL, SYNOPTIC, type Fate, type Sighting } from './decoder.ts';

const HOUR = 3600;
/** The minute at which routine reports of airports are taken. */
const ROUTINE_MINUTE = 53;
const COLUMNS = ['from', 'speed', 'gust', 'cloud', 'ceiling'] as const;

type Column = (typeof COLUMNS)[number];

/**
 * Rows of one station as they come, held to one an hour: a routine report before a synoptic one,
 * that before a special one; among equals the one nearest to minute 53. Rows need not be in order.
 */
export class WindStore {
  count = 0;
  private time = new Float64Array(1024);
  private ranks = new Uint8Array(1024);
  private columns = Object.fromEntries(
    COLUMNS.map((name) => [name, new Float32Array(1024)]),
  ) as Record<Column, Float32Array<ArrayBuffer>>;
  private isOrdered = true;
  private rows = 0;
  private readonly fates: Record<Fate, number> = {
    kept: 0,
    missing: 0,
    suspect: 0,
    'out-of-range': 0,
    'bad-time': 0,
    summary: 0,
  };
  private duplicates = 0;
  private specials = 0;
  private synoptics = 0;
  private moreInHour = 0;

  add(fate: Fate, seen: Sighting): void {
    this.rows++;
    this.fates[fate]++;
    if (fate === 'kept') this.keep(seen);
  }

  private keep(seen: Sighting): void {
    const last = this.count - 1;
    const { time } = this;
    if (last >= 0) {
      if (Math.floor(seen.seconds / HOUR) === Math.floor(time[last]! / HOUR)) {
        if (this.isBetter(seen.seconds, seen.rank, last)) this.put(last, seen);
        return;
      }
      if (seen.seconds < time[last]!) this.isOrdered = false;
    }
    if (this.count === time.length) this.grow();
    this.put(this.count++, seen);
  }

  /** Whether a row is to stand for its hour in place of row `i`; what gives way is counted. */
  private isBetter(seconds: number, rank: number, i: number): boolean {
    const minute = Math.floor(seconds / 60);
    const held = Math.floor(this.time[i]! / 60);
    if (rank === this.ranks[i] && minute === held) {
      this.duplicates++;
      return false;
    }
    const worse = Math.max(rank, this.ranks[i]!);
    if (rank !== this.ranks[i]) {
      if (worse === SPECIAL) this.specials++;
      else if (worse === SYNOPTIC) this.synoptics++;
      return rank < this.ranks[i]!;
    }
    if (rank === SPECIAL) this.specials++;
    else if (rank === SYNOPTIC) this.synoptics++;
    else this.moreInHour++;
    return fromRoutine(minute) < fromRoutine(held);
  }

  private put(i: number, seen: Sighting): void {
    this.time[i] = seen.seconds;
    this.ranks[i] = seen.rank;
    const { from, speed, gust, cloud, ceiling } = this.columns;
    from[i] = seen.fromDegrees;
    speed[i] = seen.speedMetersPerSecond;
    gust[i] = seen.gustMetersPerSecond;
    cloud[i] = seen.cloudShare;
    ceiling[i] = seen.ceilingMeters;
  }

  private grow(): void {
    const size = this.time.length * 2;
    this.time = copied(new Float64Array(size), this.time);
    this.ranks = copied(new Uint8Array(size), this.ranks);
    for (const name of COLUMNS) {
      this.columns[name] = copied(new Float32Array(size), this.columns[name]);
    }
  }

  /** The record and what became of the rows. The store must not be used after it. */
  finish(): { record: WindRecord; tally: WindTally } {
    if (!this.isOrdered) this.sort();
    const { count, columns } = this;
    const cut = (name: Column) => columns[name].slice(0, count);
    const record: WindRecord = {
      count,
      timeSeconds: this.time.slice(0, count),
      fromDegrees: cut('from'),
      speedMetersPerSecond: cut('speed'),
      gustMetersPerSecond: cut('gust'),
      cloudShare: cut('cloud'),
      ceilingMeters: cut('ceiling'),
    };
    const tally: WindTally = {
      rows: this.rows,
      missing: this.fates.missing,
      suspect: this.fates.suspect,
      outOfRange: this.fates['out-of-range'],
      unreadableTime: this.fates['bad-time'],
      summaries: this.fates.summary,
      duplicates: this.duplicates,
      specials: this.specials,
      synoptics: this.synoptics,
      moreInHour: this.moreInHour,
      ...recordCounts(record),
    };
    return { record, tally };
  }

  /** By time, equal times in the order of the file; then one an hour again. */
  private sort(): void {
    const { time, ranks, columns, count } = this;
    const order = Uint32Array.from({ length: count }, (_, i) => i);
    order.sort((a, b) => time[a]! - time[b]! || a - b);
    const sorted = time.slice(0, count);
    const held = { ranks: ranks.slice(0, count), ...mapped(columns, count) };
    this.count = 0;
    for (const i of order) {
      const last = this.count - 1;
      const at = sorted[i]!;
      const isSameHour = last >= 0 && Math.floor(at / HOUR) === Math.floor(time[last]! / HOUR);
      if (isSameHour && !this.isBetter(at, held.ranks[i]!, last)) continue;
      const to = isSameHour ? last : this.count++;
      time[to] = at;
      ranks[to] = held.ranks[i]!;
      for (const name of COLUMNS) columns[name][to] = held[name][i]!;
    }
  }
}

const fromRoutine = (minute: number) => Math.abs((minute % 60) - ROUTINE_MINUTE);

function copied<T extends { set(from: T): void }>(to: T, from: T): T {
  to.set(from);
  return to;
}

function mapped(columns: Record<Column, Float32Array>, count: number) {
  return Object.fromEntries(COLUMNS.map((name) => [name, columns[name].slice(0, count)])) as Record<
    Column,
    Float32Array
  >;
}
