import { METERS_PER_SECOND, NOWHERE, ROUTINE, takeWind } from './decoder.ts';
import type { Fate, Sighting, StationPlace, WindDecoder } from './decoder.ts';
import type { FieldRow } from './field-row.ts';
import { readTime, readTimeText, type DateOrder } from './read-time.ts';
import type { SpeedUnit, WindColumns } from './wind-opening.ts';

const COMMA = 44;
const POINTS = 'N NNE NE ENE E ESE SE SSE S SSW SW WSW W WNW NW NNW'.split(' ');
/** What loggers write for "no value". */
const FILLERS = new Set([999, 9999, 99_999, -99, -999, -9999, -99_999, 99.9, 999.9, 9999.9]);

/**
 * Any table, by columns that the user chose: direction in degrees true or as one of 16 points of the
 * compass, `VRB` variable, `calm` calm; no number, an empty field and the usual fillers are missing.
 */
export class AnyColumns implements WindDecoder {
  readonly clock: 'utc' | 'unknown';
  readonly delimiter: number;
  readonly lastColumn: number;
  private readonly columns: WindColumns;
  private readonly scale: number;
  private readonly timesTen: boolean;
  private readonly order: DateOrder;

  constructor(
    columns: WindColumns,
    delimiter: number,
    unit: SpeedUnit,
    tens: boolean,
    isUtc: boolean,
    order: DateOrder,
  ) {
    this.columns = columns;
    this.delimiter = delimiter;
    this.scale = METERS_PER_SECOND[unit];
    this.timesTen = tens;
    this.order = order;
    this.clock = isUtc ? 'utc' : 'unknown';
    this.lastColumn = Math.max(...Object.values(columns).map((column) => column ?? -1));
  }

  read(row: FieldRow, seen: Sighting): Fate {
    const { time, clock, direction, speed, gust } = this.columns;
    seen.stationStart = seen.stationEnd = 0;
    seen.rank = ROUTINE;
    seen.cloudShare = NaN;
    seen.ceilingMeters = NaN;
    if (clock === null) readTime(row.bytes, row.start(time), row.end(time), seen, this.order);
    else readTimeText(`${row.text(time)} ${row.text(clock)}`, seen, this.order);
    if (Number.isNaN(seen.seconds)) return 'bad-time';
    seen.gustMetersPerSecond = gust === null ? NaN : this.value(row, gust) * this.scale;
    let metersPerSecond = this.value(row, speed) * this.scale;
    let degrees = this.value(row, direction) * (this.timesTen ? 10 : 1);
    let without: 'variable' | 'missing' = 'missing';
    const letter = row.first(direction);
    if (letter > 57) {
      const word = row.text(direction).toUpperCase();
      if (/^V(R|RB|AR|ARIABLE)$/.test(word)) without = 'variable';
      else if (/^C(ALM)?$/.test(word)) metersPerSecond = 0;
      else if (POINTS.includes(word)) degrees = POINTS.indexOf(word) * 22.5;
    }
    return takeWind(seen, degrees, metersPerSecond, without);
  }

  private value(row: FieldRow, field: number): number {
    let value = row.number(field);
    // A table whose fields a comma does not part may have it in its numbers.
    if (Number.isNaN(value) && this.delimiter !== COMMA && row.length(field) > 0) {
      const text = row.text(field);
      if (/^[+-]?\d+,\d+$/.test(text)) value = Number(text.replace(',', '.'));
    }
    return FILLERS.has(value) ? NaN : value;
  }

  place(): StationPlace {
    return NOWHERE;
  }
}
