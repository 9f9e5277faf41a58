import type { ByteSource } from '../geo/formats/byte-source.ts';

/**
 * A wind record that is never whole in memory: METAR rows every five minutes of five stations one after
 * the other, each row as long as the others, made where they are read. Twelve rows an hour.
 */
export interface GeneratedWind extends ByteSource {
  readonly rows: number;
  /** Hours that a station's rows cover. */
  readonly hoursEach: number;
  /** What has been asked of it so far. */
  readonly asked: { reads: number; bytes: number; longest: number };
}

const STATIONS = 5;
const HEAD = 'station,valid,drct,sknt\n';
const ROW_BYTES = 'QB0,2010-01-01 00:00,010,05\n'.length;
const START = Date.UTC(2010, 0, 1);

export function generatedWind(rows: number): GeneratedWind {
  const each = Math.ceil(rows / STATIONS);
  const size = HEAD.length + rows * ROW_BYTES;
  const asked = { reads: 0, bytes: 0, longest: 0 };
  let day = NaN;
  let date = '';
  /** A row into `to` at `at`; dates are made once a day. */
  const write = (i: number, to: Uint8Array, at: number) => {
    const minutes = (i % each) * 5;
    if (Math.floor(minutes / 1440) !== day) {
      day = Math.floor(minutes / 1440);
      date = new Date(START + day * 86_400_000).toISOString().slice(0, 10);
    }
    const [hour, minute] = [Math.floor(minutes / 60) % 24, minutes % 60];
    const from = ((i * 7) % 36) * 10 + 10;
    const row = `QB${Math.floor(i / each)},${date} ${two(hour)}:${two(minute)},${from < 100 ? '0' : ''}${from},${two(i % 20)}\n`; // prettier-ignore
    for (let k = 0; k < ROW_BYTES; k++) to[at + k] = row.charCodeAt(k);
  };
  return {
    name: 'long.csv',
    size,
    rows,
    hoursEach: Math.ceil(each / 12),
    asked,
    read(offset, length) {
      const end = Math.min(size, offset + length);
      asked.reads++;
      asked.bytes += end - offset;
      asked.longest = Math.max(asked.longest, end - offset);
      const first = Math.max(0, Math.floor((offset - HEAD.length) / ROW_BYTES));
      const last = Math.min(rows, Math.max(0, Math.ceil((end - HEAD.length) / ROW_BYTES)));
      const start = offset < HEAD.length ? 0 : HEAD.length + first * ROW_BYTES;
      const bytes = new Uint8Array(HEAD.length + last * ROW_BYTES - start);
      if (start === 0) bytes.set(new TextEncoder().encode(HEAD));
      for (let i = first; i < last; i++) write(i, bytes, HEAD.length + i * ROW_BYTES - start);
      return Promise.resolve(bytes.subarray(offset - start, end - start));
    },
  };
}

const two = (value: number) => (value < 10 ? `0${value}` : String(value));
