import { problem, type Problem, type Result } from '../../result.ts';
import { AnyColumns } from './any-columns.ts';
import type { WindDecoder } from './decoder.ts';
import { FireWeather } from './fire-weather.ts';
import { GlobalHourly } from './global-hourly.ts';
import { guessWindColumns, saysUtc, unitInSpeedName } from './guess-wind-columns.ts';
import { HourlyPipe } from './hourly-pipe.ts';
import { IsdFixed } from './isd-fixed.ts';
import { LocalClimatological } from './local-climatological.ts';
import { MetarArchive } from './metar-archive.ts';
import { dateOrderOf, readTimeText, type DateOrder } from './read-time.ts';
import type { WindHead } from './sniff-wind.ts';
import type { OpenedWind, WindAsked, WindChoices, WindColumns } from './wind-opening.ts';

interface Ready {
  readonly kind: 'ready';
  readonly decoder: WindDecoder;
  readonly notes: readonly string[];
}

/** The decoder of a layout with what the user has said, or what must be asked first. */
export function decoderFor(
  name: string,
  head: WindHead,
  choices: WindChoices,
): Ready | WindAsked | Extract<OpenedWind, { kind: 'refused' }> {
  const tens = choices.directionUnit === 'tens-of-degrees';
  const lower = (head.names ?? []).map((column) => column.toLowerCase().trim());
  const delimiter = head.delimiter.charCodeAt(0);
  if (choices.columns === undefined) {
    switch (head.layout) {
      case 'metar-archive':
        return ready(new MetarArchive(lower, delimiter, tens));
      case 'global-hourly':
        return ready(
          new GlobalHourly(
            lower.map((column) => column.toUpperCase()),
            tens,
          ),
        );
      case 'isd-fixed':
        return ready(new IsdFixed(tens));
      case 'hourly-pipe':
        return ready(new HourlyPipe(lower, tens));
      case 'fire-weather':
        return ready(new FireWeather(tens));
      case 'local-climatological':
        return climatological(head, lower, choices, tens);
      case 'columns':
    }
  }
  return byColumns(name, head, choices, tens);
}

const ready = (decoder: WindDecoder, ...notes: string[]): Ready => ({
  kind: 'ready',
  decoder,
  notes,
});

/** The older form has whole miles an hour; a newer one that has fractions may be metric. */
function climatological(
  head: WindHead,
  lower: readonly string[],
  choices: WindChoices,
  tens: boolean,
): Ready | WindAsked {
  const column = lower.indexOf('hourlywindspeed');
  const hasFractions = head.rows.some((row) => (row[column] ?? '').includes('.'));
  if (choices.speedUnit === undefined && hasFractions) {
    return {
      kind: 'ask',
      question: 'speed-unit',
      why: 'Wind speeds of this layout are whole miles an hour, but these have fractions.',
      layout: head.layout,
    };
  }
  return ready(new LocalClimatological(lower, choices.speedUnit ?? 'mph', tens));
}

function byColumns(
  name: string,
  head: WindHead,
  choices: WindChoices,
  tens: boolean,
): Ready | WindAsked | Extract<OpenedWind, { kind: 'refused' }> {
  const preview = guessWindColumns(head);
  const asked = { kind: 'ask', layout: head.layout, preview } as const;
  const { columns } = choices;
  if (columns === undefined) {
    return { ...asked, question: 'columns', why: 'Say which column holds what.' };
  }
  const width = Math.max(head.names?.length ?? 0, ...head.rows.map((row) => row.length));
  const checked = checkColumns(name, columns, width);
  if (!checked.ok) return { kind: 'refused', problem: checked.problem };
  const dates = head.rows.map((row) => `${row[columns.time] ?? ''} ${row[columns.clock ?? -1] ?? ''}`); // prettier-ignore
  const order = choices.dateOrder ?? dateOrderOf(dates);
  if (order === null) {
    const why = 'Dates such as 3/4/2024 do not say whether the month or the day comes first.';
    return { ...asked, question: 'date-order', why };
  }
  if (!dates.some((text) => isTime(text, order))) {
    return { kind: 'refused', problem: noTime(name) };
  }
  const named = head.names?.[columns.speed];
  const unit = choices.speedUnit ?? (named === undefined ? null : unitInSpeedName(named));
  if (unit === null) {
    return {
      ...asked,
      question: 'speed-unit',
      why: 'The table does not say in which unit speeds are.',
    };
  }
  const times = [columns.time, columns.clock].map((column) => head.names?.[column ?? -1] ?? '');
  const delimiter = head.delimiter.charCodeAt(0);
  return ready(new AnyColumns(columns, delimiter, unit, tens, times.some(saysUtc), order));
}

function isTime(text: string, order: DateOrder): boolean {
  const out = { seconds: NaN, zoned: false };
  readTimeText(text, out, order);
  return !Number.isNaN(out.seconds);
}

/** That no row has a time: said as soon as it is seen, before anything else is asked. */
export function noTime(where: string): Problem {
  return {
    code: 'wind-no-time',
    what: 'No row of the record has a date and time that can be read.',
    wayOut: 'Choose the columns of date and time again, or write them as 2024-11-02 14:53.',
    where,
  };
}

function checkColumns(name: string, columns: WindColumns, width: number): Result<true> {
  const { time, clock, direction, speed, gust } = columns;
  const all = [time, direction, speed, ...[clock, gust].filter((column) => column !== null)];
  const fit = all.every((column) => Number.isInteger(column) && column >= 0 && column < width);
  if (fit && new Set(all).size === all.length) return { ok: true, value: true };
  return problem(
    'wind-columns',
    `The table has ${width} columns; time, direction and speed must be different ones of them.`,
    'Choose the columns again.',
    name,
  );
}
