import { METERS_PER_SECOND, NOWHERE, ROUTINE, takeWind } from './decoder.ts';
import type { Fate, Sighting, StationPlace, WindDecoder } from './decoder.ts';
import type { FieldRow } from './field-row.ts';
import { secondsOfDay } from './read-time.ts';

/** Places counted from 0, where the published layout counts columns from 1. */
const [STATION, STATION_END, DATE, CLOCK, KIND] = [3, 9, 9, 17, 21] as const;
const [DIRECTION, SPEED, MEASURE, GUST] = [29, 32, 62, 71] as const;
const LETTER_F = 70;
const LETTER_X = 88;
const METRIC = 50;

/**
 * Observations of fire-weather stations in the exchange layouts of 1998 and 2013 (`W98`, `W13`):
 * station 4 to 9, date 10 to 17, time 18 to 21, kind of report 22 (F forecast and X other are left
 * out), wind direction in degrees true 30 to 32 (0: no direction), 10-minute mean 20 ft above
 * ground 33 to 35, unit 63 (1 miles, 2 kilometres an hour), gust 72 to 74 (gust and unit codes from
 * memory). Blank is missing. The layout does not say which clock its times are by.
 */
export class FireWeather implements WindDecoder {
  readonly clock = 'unknown';
  readonly delimiter = null;
  readonly lastColumn = 0;
  private readonly timesTen: boolean;

  constructor(tens: boolean) {
    this.timesTen = tens;
  }

  read(row: FieldRow, seen: Sighting): Fate {
    const { bytes, from, to } = row;
    seen.zoned = false;
    seen.rank = ROUTINE;
    seen.cloudShare = NaN;
    seen.ceilingMeters = NaN;
    seen.stationStart = from + STATION;
    seen.stationEnd = from + STATION_END;
    if (to - from < SPEED) {
      seen.stationStart = seen.stationEnd = from;
      return 'bad-time';
    }
    const digits = (start: number, length: number) =>
      row.digitsIn(from + start, from + start + length);
    const date = secondsOfDay(digits(DATE, 4), digits(DATE + 4, 2), digits(DATE + 6, 2));
    const [hour, minute] = [digits(CLOCK, 2), digits(CLOCK + 2, 2)];
    seen.seconds = hour <= 24 && minute < 60 ? date + 3600 * hour + 60 * minute : NaN;
    if (Number.isNaN(seen.seconds)) return 'bad-time';
    const kind = bytes[from + KIND];
    if (kind === LETTER_F || kind === LETTER_X) return 'summary';
    const field = (start: number) => row.numberIn(from + start, Math.min(to, from + start + 3));
    const unit = to - from > MEASURE && bytes[from + MEASURE] === METRIC ? 'km/h' : 'mph';
    const scale = METERS_PER_SECOND[unit];
    seen.gustMetersPerSecond = to - from > GUST ? field(GUST) * scale : NaN;
    const degrees = field(DIRECTION);
    const turned = degrees === 0 ? NaN : degrees * (this.timesTen ? 10 : 1);
    const without = degrees === 0 ? 'variable' : 'missing';
    return takeWind(seen, turned, field(SPEED) * scale, without);
  }

  place(): StationPlace {
    return NOWHERE;
  }
}
