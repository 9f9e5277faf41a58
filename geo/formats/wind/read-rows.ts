import { ok, problem, type Result } from '../../result.ts';
import type { ByteSource } from '../byte-source.ts';
import { readLines } from '../lines.ts';
import type { Reading } from '../opening.ts';
import { asciiText } from '../scan-numbers.ts';
import {
  NOWHERE,
  type Fate,
  type Sighting,
  type StationPlace,
  type WindDecoder,
} from './decoder.ts';
import { FieldRow } from './field-row.ts';
import { WindStore } from './wind-store.ts';
import type { WindChoices } from './wind-opening.ts';

const MOST_STATIONS = 50;
const HASH = 35;

/** One station while its rows are read. */
export interface ReadStation {
  readonly id: string;
  readonly place: StationPlace;
  readonly store: WindStore;
  /** Rows that had a direction, the highest of them, and which whole ones up to 36 were met. */
  directions: number;
  highest: number;
  readonly seen: Uint8Array;
}

export interface RowsRead {
  readonly stations: ReadonlyMap<string, ReadStation>;
  /** True where rows had no zone, the layout has none and the user gave none. */
  readonly needsOffset: boolean;
}

/** Reads every row of a record in pieces of 1 MB, telling progress and hearing a stop. */
export async function readRows(
  source: ByteSource,
  decoder: WindDecoder,
  firstDataLine: number,
  choices: WindChoices,
  reading: Reading,
): Promise<Result<RowsRead>> {
  const rows = new RowReader(decoder, choices);
  const read = await readLines(
    source,
    {
      doing: 'Reading the wind',
      take(bytes, from, to, line) {
        return line < firstDataLine || rows.take(bytes, from, to) ? null : tooManyStations(source);
      },
      tooLong: (line) => lineTooLong(source, line),
      isEnough: () => rows.needsOffset,
    },
    reading,
  );
  if (!read.ok) return read;
  return ok({ stations: rows.stations, needsOffset: rows.needsOffset });
}

class RowReader {
  readonly stations = new Map<string, ReadStation>();
  needsOffset = false;
  private readonly decoder: WindDecoder;
  private readonly offsetSeconds: number | null;
  private readonly row = new FieldRow();
  private readonly seenRow: Sighting = {
    seconds: NaN,
    zoned: false,
    fromDegrees: NaN,
    speedMetersPerSecond: NaN,
    gustMetersPerSecond: NaN,
    cloudShare: NaN,
    ceilingMeters: NaN,
    rank: 0,
    stationStart: 0,
    stationEnd: 0,
  };
  private last: ReadStation | null = null;

  constructor(decoder: WindDecoder, choices: WindChoices) {
    this.decoder = decoder;
    const offset = choices.utcOffsetHours;
    this.offsetSeconds = offset !== undefined ? offset * 3600 : decoder.clock === 'utc' ? 0 : null;
  }

  /** False where the file has more stations than are read side by side. */
  take(bytes: Uint8Array, from: number, to: number): boolean {
    if (to === from || bytes[from] === HASH) return true;
    const { decoder, row, seenRow } = this;
    row.split(bytes, from, to, decoder.delimiter, decoder.lastColumn);
    const fate = decoder.read(row, seenRow);
    const station = this.stationOf(bytes, fate);
    if (!station) return false;
    if (fate === 'kept') {
      if (!seenRow.zoned) {
        if (this.offsetSeconds === null) this.needsOffset = true;
        else seenRow.seconds -= this.offsetSeconds;
      }
      const degrees = seenRow.fromDegrees;
      if (!Number.isNaN(degrees)) {
        station.directions++;
        if (degrees > station.highest && degrees < 360) station.highest = degrees;
        if (degrees <= 36 && Number.isInteger(degrees)) station.seen[degrees] = 1;
      }
    }
    station.store.add(fate, seenRow);
    return true;
  }

  private stationOf(bytes: Uint8Array, fate: Fate): ReadStation | null {
    const { stationStart, stationEnd } = this.seenRow;
    const { last } = this;
    // A row that cannot be read has no station of its own.
    if (last && fate === 'bad-time') return last;
    if (last && isSame(bytes, stationStart, stationEnd, last.id)) return last;
    const id = asciiText(bytes, stationStart, Math.min(stationEnd, stationStart + 40));
    let station = this.stations.get(id);
    if (!station) {
      if (this.stations.size === MOST_STATIONS) return null;
      const place = stationEnd > stationStart ? this.decoder.place(this.row) : NOWHERE;
      const store = new WindStore();
      station = { id, place, store, directions: 0, highest: 0, seen: new Uint8Array(37) };
      this.stations.set(id, station);
    }
    this.last = station;
    return station;
  }
}

function isSame(bytes: Uint8Array, from: number, to: number, id: string): boolean {
  if (to - from !== id.length) return false;
  for (let i = 0; i < id.length; i++) if (bytes[from + i] !== id.charCodeAt(i)) return false;
  return true;
}

function tooManyStations(source: ByteSource): Result<never> {
  return problem(
    'wind-too-many-stations',
    `The file holds more than ${MOST_STATIONS} stations.`,
    'Download the few stations nearest to your ground.',
    source.name,
  );
}

function lineTooLong(source: ByteSource, line: number): Result<never> {
  return problem(
    'wind-row-too-long',
    `Line ${line} is longer than a million letters.`,
    'Pick the text file of the record itself.',
    source.name,
  );
}
