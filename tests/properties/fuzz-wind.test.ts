import { expect, it } from 'vitest';
import { memorySource } from '../../geo/formats/byte-source.ts';
import { openWind } from '../../geo/formats/wind/open-wind.ts';
import type { OpenedWind, WindChoices } from '../../geo/formats/wind/wind-opening.ts';
import { fuzzCount } from '../fuzz-count.ts';
import { fuzzTally, refusal } from '../fuzz-tally.ts';
import { seeded } from '../seeded.ts';

// Damaged wind records of every layout: opened, asked about or refused with a code and the way out;
// nothing is thrown, no row is lost from the count, and what is kept is in order and in range.
const rows = (count: number, row: (clock: string, i: number) => string) =>
  Array.from({ length: count }, (_, i) => row(`${String(i % 24).padStart(2, '0')}`, i)).join('\n');
const SAMPLES = [
  `station,valid,drct,sknt,gust,skyc1,skyl1\n${rows(24, (h, i) => `QB7,2023-11-02 ${h}:53,${i * 15},7,M,BKN,2500`)}`,
  `"STATION","DATE","REPORT_TYPE","WND","OC1"\n${rows(24, (h, i) => `"9","2023-11-02T${h}:53:00","FM-15","${String(i * 15).padStart(3, '0')},5,N,0041,5","0093,5"`)}`,
  rows(24, (h) =>
    `0120999999000012023110 2${h}537+36140-075010FM-15+0071QB7  V0302305N00415220005N1`.replace(
      '0 2',
      '02',
    ),
  ),
  `STATION,DATE,REPORT_TYPE,HourlyWindDirection,HourlyWindSpeed\n${rows(24, (h, i) => `9,2023-11-02T${h}:53:00,FM-15,${i * 15},9`)}`,
  `Station_ID|Year|Month|Day|Hour|Minute|wind_direction|wind_direction_Measurement_Code|wind_speed\n${rows(24, (h, i) => `US9|2023|11|02|${h}|53|${i * 15}|N|4.1`)}`,
  rows(24, (h) => `W1399900120231102${h}00R0 50 60230  9`.padEnd(62) + '1'),
  `Date,Wind Dir,Wind Speed (mph)\n${rows(24, (h, i) => `2023-11-02 ${h}:53,${i * 15},9`)}`,
];
const COLUMNS = { time: 0, clock: null, direction: 1, speed: 2, gust: null };
const CHOICES: readonly WindChoices[] = [
  {},
  { utcOffsetHours: -5 },
  { utcOffsetHours: -5, columns: COLUMNS },
];
const SCRAPS = [
  'nan',
  '-',
  '1e999',
  ',',
  '"',
  '\n',
  '\r',
  '\0',
  '|',
  'M',
  'VRB',
  '999',
  '-9999',
  '99999999999999999999',
  '',
];

it('damaged wind records are opened, asked about or refused in words', async () => {
  const tally = fuzzTally();
  const count = fuzzCount(700, 0.1);
  for (let seed = 1; seed <= count; seed++) {
    const random = seeded(seed);
    const whole = (n: number) => Math.floor(random() * n);
    let text = SAMPLES[whole(SAMPLES.length)]!;
    for (let turns = whole(4); turns >= 0; turns--) {
      const at = whole(text.length + 1);
      text = text.slice(0, at) + SCRAPS[whole(SCRAPS.length)]! + text.slice(at + whole(9));
    }
    const bytes = new TextEncoder().encode(text);
    await tally.take(`seed ${seed}`, async () => {
      const choices = CHOICES[whole(CHOICES.length)]!;
      const result = await openWind(memorySource('wind', bytes), choices);
      check(result);
      return result.kind === 'refused' ? refusal(result.problem) : { end: result.kind };
    });
  }
  tally.close();
  expect(tally.count('opened')).toBeGreaterThan(count / 4);
  expect(tally.count('ask')).toBeGreaterThan(0);
  expect(tally.count('refused')).toBeGreaterThan(0);
});

function check(result: OpenedWind): void {
  if (result.kind !== 'opened') return;
  for (const { record, tally } of result.stations) {
    const left = tally.missing + tally.suspect + tally.outOfRange + tally.unreadableTime;
    const same =
      tally.summaries + tally.duplicates + tally.specials + tally.synoptics + tally.moreInHour;
    if (tally.kept + left + same !== tally.rows)
      throw new Error(`rows lost: ${JSON.stringify(tally)}`);
    for (let i = 0; i < record.count; i++) {
      const [from, speed] = [record.fromDegrees[i]!, record.speedMetersPerSecond[i]!];
      const hour = (k: number) => Math.floor(record.timeSeconds[k]! / 3600);
      if (!(speed >= 0 && speed <= 90)) throw new Error(`speed ${speed}`);
      if (!(Number.isNaN(from) || (from > 0 && from <= 360))) throw new Error(`from ${from}`);
      if (i > 0 && hour(i) <= hour(i - 1)) throw new Error(`row ${i} out of order`);
    }
  }
}
