import { gzipSync } from 'node:zlib';
import { describe, expect, it } from 'vitest';
import { tallyLine } from '../../app/words/wind-words.ts';
import { memorySource } from '../../geo/formats/byte-source.ts';
import { guessWindColumns } from '../../geo/formats/wind/guess-wind-columns.ts';
import { mergeStations } from '../../geo/formats/wind/merge-stations.ts';
import { openWind } from '../../geo/formats/wind/open-wind.ts';
import { sniffWind } from '../../geo/formats/wind/sniff-wind.ts';
import type { OpenedWind, WindChoices } from '../../geo/formats/wind/wind-opening.ts';
import type { WindRecord } from '../../geo/plan/wind-record.ts';
import { problemOf, valueOf } from '../result-value.ts';

const open = (text: string, choices: WindChoices = {}) =>
  openWind(memorySource('wind.txt', new TextEncoder().encode(text)), choices);

async function opened(text: string, choices: WindChoices = {}) {
  const result = await open(text, choices);
  if (result.kind !== 'opened') throw new Error(JSON.stringify(result));
  return result;
}

async function only(text: string, choices: WindChoices = {}) {
  const { stations } = await opened(text, choices);
  expect(stations).toHaveLength(1);
  return stations[0]!;
}

const refusal = (result: OpenedWind) =>
  result.kind === 'refused' ? problemOf({ ok: false, problem: result.problem }) : result.kind;
const question = (result: OpenedWind) => (result.kind === 'ask' ? result.question : result.kind);

/** `time from speed gust cloud ceiling`, `-` for NaN, speeds in m/s to two decimals. */
function said(record: WindRecord): string[] {
  const text = (value: number, digits: number) =>
    Number.isNaN(value) ? '-' : Number.isFinite(value) ? value.toFixed(digits) : 'none';
  return Array.from(record.timeSeconds, (seconds, i) =>
    [
      new Date(seconds * 1000).toISOString().slice(0, 16),
      text(record.fromDegrees[i]!, 0),
      text(record.speedMetersPerSecond[i]!, 2),
      text(record.gustMetersPerSecond[i]!, 2),
      text(record.cloudShare[i]!, 2),
      text(record.ceilingMeters[i]!, 0),
    ].join(' '),
  );
}

// Layouts, units and missing codes: trade notes section 3.5 (S30, S31) unless another source is
// named; every file is made by hand. 1 kt = 0.514444 m/s, 1 mph = 0.44704 m/s (handbook 7.5).
describe('METAR archive', () => {
  const head =
    '#DEBUG: a remark\nstation,valid,lon,lat,elevation,drct,sknt,gust,skyc1,skyc2,skyl1,skyl2,metar\n';
  const place = '-75.0100,36.1400,71.00';
  const row = (time: string, rest: string) => `QBX,2023-11-02 ${time},${place},${rest}\n`;

  it('reads degrees and knots, calm, variable, missing, cloud and ceiling', async () => {
    const text =
      head +
      row('00:53', '230.00,8.00,M,FEW,BKN,1500.00,4500.00,x') +
      row('01:53', '0.00,0.00,M,CLR,M,M,M,x') +
      row('02:53', 'M,3.00,M,M,M,M,M,x') +
      row('03:53', 'M,M,M,OVC,M,800.00,M,x') +
      row('04:53', 'null,null,null,OVC,M,800.00,M,x') +
      row('05:53', ',,,,,,,') +
      row('06:53', '360.00,10.00,21.00,VV ,M,200.00,M,x') +
      row('07:53', '0.00,5.00,M,SCT,M,2000.00,M,x');
    const { id, longitude, latitude, elevationMeters, record, tally } = await only(text);
    expect([id, longitude, latitude, elevationMeters]).toEqual(['QBX', -75.01, 36.14, 71]);
    expect(said(record)).toEqual([
      '2023-11-02T00:53 230 4.12 - 0.75 1372',
      '2023-11-02T01:53 - 0.00 - 0.00 none',
      '2023-11-02T02:53 - 1.54 - - -',
      '2023-11-02T06:53 360 5.14 10.80 1.00 61',
      '2023-11-02T07:53 360 2.57 - 0.44 none',
    ]);
    expect(tally).toMatchObject({ rows: 8, kept: 5, calm: 1, variable: 1, missing: 3 });
    expect(tally).toMatchObject({ stepHours: 1, gaps: 1, gapHours: 3, longestGapHours: 3 });
  });

  it('keeps one row an hour, nearest to minute 53, and counts the others and duplicates', async () => {
    const text =
      head +
      row('00:53', '230,8,M,,,,,') +
      row('00:53', '230,8,M,,,,,') +
      row('01:10', '240,9,M,,,,,') +
      row('01:53', '250,10,M,,,,,') +
      row('01:58', '260,11,M,,,,,');
    const { record, tally } = await only(text);
    expect(Array.from(record.fromDegrees)).toEqual([230, 250]);
    expect(tally).toMatchObject({ rows: 5, kept: 2, duplicates: 1, moreInHour: 2 });
  });

  it('takes a routine report before a special one where the type is given', async () => {
    const text =
      'station,valid,drct,sknt,report_type\nQBX,2023-11-02 00:53,200,5,4\nQBX,2023-11-02 00:20,210,6,3\n' +
      'QBX,2023-11-02 01:53,220,7,3\nQBX,2023-11-02 01:53,230,7,4\n';
    const { record, tally } = await only(text);
    expect(Array.from(record.fromDegrees)).toEqual([210, 220]);
    expect(tally.specials).toBe(2);
  });

  it('reads the report itself where direction and speed were not chosen', async () => {
    const text =
      'station,valid,metar\nQBX,2023-11-02 00:53,KQBX 020053Z 08032G45KT 10SM CLR RMK PK WND 09050/0040\n' +
      'QBX,2023-11-02 01:53,KQBX 020153Z /////KT 10SM\n';
    const { record, tally } = await only(text);
    expect(said(record)).toEqual(['2023-11-02T00:53 80 16.46 23.15 - -']);
    expect(tally.missing).toBe(1);
  });

  it('reads several stations side by side, in any order', async () => {
    const text =
      'station,valid,drct,sknt\nQBX,2023-11-02 02:53,200,5\nQBY,2023-11-02 00:53,300,6\n' +
      'QBX,2023-11-02 00:53,210,5\nQBX,2023-11-02 01:53,220,5\nQBX,2023-11-02 00:53,230,5\n';
    const { stations } = await opened(text);
    expect(stations.map(({ id }) => id)).toEqual(['QBX', 'QBY']);
    expect(Array.from(stations[0]!.record.fromDegrees)).toEqual([210, 220, 200]);
    expect(stations[0]!.tally).toMatchObject({ duplicates: 1, kept: 3, rows: 4 });
  });
});

describe('global hourly', () => {
  const head =
    '"STATION","DATE","SOURCE","LATITUDE","LONGITUDE","ELEVATION","NAME","REPORT_TYPE","CALL_SIGN","QUALITY_CONTROL","WND","CIG","VIS","TMP","OC1","GF1"\n';
  const row = (
    date: string,
    type: string,
    wind: string,
    rest = '"99999,9,9,N","016093,5,N,5","+0100,5","",""',
  ) =>
    `"99999900001","${date}","7","36.14","-75.01","71.0","QUILLSTONE, US","${type}","QBX","V030","${wind}",${rest}\n`;

  it('reads WND with its codes, OC1, CIG and GF1', async () => {
    const text =
      head +
      row(
        '2023-11-02T00:53:00',
        'FM-15',
        '230,5,N,0041,5',
        '"22000,5,9,N","016093,5,N,5","+0100,5","0093,5","02,99,1,02,1,99,9"',
      ) +
      row(
        '2023-11-02T01:53:00',
        'FM-15',
        '999,9,C,0000,1',
        '"01372,5,M,N","016093,5,N,5","+0100,5","9999,9","99,99,9"',
      ) +
      row('2023-11-02T02:53:00', 'FM-15', '999,9,V,0015,5') +
      row('2023-11-02T03:53:00', 'FM-15', '999,9,9,0000,5') +
      row('2023-11-02T04:53:00', 'FM-15', '999,9,9,9999,9') +
      row('2023-11-02T05:53:00', 'FM-15', '999,9,N,0031,5') +
      row('2023-11-02T06:53:00', 'FM-15', '230,5,N,9999,9') +
      row('2023-11-02T07:53:00', 'FM-15', '230,3,N,0041,5') +
      row('2023-11-02T08:53:00', 'FM-15', '230,5,N,0041,7') +
      row('2023-11-02T23:59:00', 'SOD  ', '') +
      row('2023-11-02T23:59:00', 'SOM', '999,9,9,9999,9') +
      row('2023-11-02T10:53:00', 'FM-15', '');
    const { name, longitude, record, tally } = await only(text);
    expect([name, longitude]).toEqual(['QUILLSTONE, US', -75.01]);
    expect(said(record)).toEqual([
      '2023-11-02T00:53 230 4.10 9.30 0.25 none',
      '2023-11-02T01:53 - 0.00 - - 1372',
      '2023-11-02T02:53 - 1.50 - - -',
      '2023-11-02T03:53 - 0.00 - - -',
    ]);
    expect(tally).toMatchObject({ missing: 4, suspect: 2, summaries: 2, calm: 2, variable: 1 });
  });

  it('keeps the METAR of an hour before the synoptic and the special report', async () => {
    const text =
      head +
      row('2023-11-02T01:00:00', 'FM-12', '200,5,N,0041,5') +
      row('2023-11-02T01:20:00', 'FM-16', '210,5,N,0041,5') +
      row('2023-11-02T01:53:00', 'FM-15', '220,5,N,0041,5') +
      row('2023-11-02T02:05:00', 'FM-16', '230,5,N,0041,5') +
      row('2023-11-02T03:00:00', 'FM-12', '240,5,N,0041,5');
    const { record, tally } = await only(text);
    expect(Array.from(record.fromDegrees)).toEqual([220, 230, 240]);
    // One of each gave way to the METAR at 01:53.
    expect(tally).toMatchObject({ rows: 5, kept: 3, specials: 1, synoptics: 1, moreInHour: 0 });
    expect(tallyLine({ specials: 1, synoptics: 2 })).toBe('special reports 1, synoptic reports 2');
  });

  it('counts synoptic reports as such where an hour has more than one', async () => {
    const text =
      head +
      row('2023-11-02T01:00:00', 'FM-12', '200,5,N,0041,5') +
      row('2023-11-02T01:20:00', 'FM-12', '210,5,N,0041,5') +
      row('2023-11-02T01:40:00', 'FM-12', '220,5,N,0041,5');
    const { tally } = await only(text);
    expect(tally).toMatchObject({ rows: 3, kept: 1, specials: 0 });
    expect(tally.synoptics + tally.moreInHour).toBe(2);
  });
});

describe('ISD in fixed columns', () => {
  // Columns 61-63 direction, 64 quality, 65 type, 66-69 speed, 70 quality, 71-75 ceiling.
  const row = (
    clock: string,
    wind: string,
    rest = '999999N9999999N99999+99999999999',
    more = '',
  ) => {
    const control =
      `0120999999` + `00001` + `20231102${clock}` + '7' + '+36140' + '-075010' + 'FM-15';
    const line = `${control}+0071QBX  V030${wind}${rest}`.padEnd(105, '9') + more;
    expect(line.slice(60, 70)).toBe(wind);
    return `${line}\n`;
  };

  it('reads the columns, missing codes, gust and sky of the additional data', async () => {
    const text =
      row('0053', '2305N00415', '220005', 'ADDGF102991021999OC100935REMMET040KQBX OC199999') +
      row('0153', '9999C00001') +
      row('0253', '9999V00155', '013725') +
      row('0353', '999999999' + '9') +
      row('0453', '2303N00415') +
      row('0553', '2305N00416') +
      'too short\n';
    const { id, longitude, latitude, elevationMeters, record, tally } = await only(text);
    expect([id, longitude, latitude, elevationMeters]).toEqual(['99999900001', -75.01, 36.14, 71]);
    expect(said(record)).toEqual([
      '2023-11-02T00:53 230 4.10 9.30 0.25 none',
      '2023-11-02T01:53 - 0.00 - - -',
      '2023-11-02T02:53 - 1.50 - - 1372',
    ]);
    expect(tally).toMatchObject({ missing: 1, suspect: 2, unreadableTime: 1, rows: 7 });
  });
});

describe('local climatological data', () => {
  const text =
    '"STATION","DATE","REPORT_TYPE","HourlySkyConditions","HourlyWindDirection","HourlyWindGustSpeed","HourlyWindSpeed"\n' +
    '"99999900001","2023-11-02T00:53:00","FM-15","FEW:02 25 BKN:07 45","230","18","9"\n' +
    '"99999900001","2023-11-02T01:53:00","FM-15","CLR:00","000","","0"\n' +
    '"99999900001","2023-11-02T02:53:00","FM-15","","VRB","","3"\n' +
    '"99999900001","2023-11-02T03:53:00","FM-15","","","",""\n' +
    '"99999900001","2023-11-02T04:53:00","FM-15","","230","","9s"\n' +
    '"99999900001","2023-11-02T05:53:00","FM-15","","","","6"\n' +
    '"99999900001","2023-11-02T23:59:00","SOD  ","","","",""\n';

  it('asks for the zone, then reads miles an hour in UTC', async () => {
    expect(question(await open(text))).toBe('utc-offset');
    const { record, tally } = await only(text, { utcOffsetHours: -5 });
    expect(said(record)).toEqual([
      '2023-11-02T05:53 230 4.02 8.05 0.88 1372',
      '2023-11-02T06:53 - 0.00 - 0.00 none',
      '2023-11-02T07:53 - 1.34 - - -',
    ]);
    expect(tally).toMatchObject({ missing: 2, suspect: 1, summaries: 1 });
  });

  it('asks for the unit where speeds have fractions', async () => {
    const metric = text.replace('"18","9"', '"8.2","4.1"');
    expect(question(await open(metric, { utcOffsetHours: -5 }))).toBe('speed-unit');
    const { record } = await only(metric, { utcOffsetHours: -5, speedUnit: 'm/s' });
    expect(said(record)[0]).toContain(' 230 4.10 8.20 ');
  });
});

describe('the pipe-separated hourly successor', () => {
  const row = (
    hour: string,
    direction: string,
    code: string,
    speed: string,
    quality = '5',
    sky = '',
  ) =>
    `USW00099999|QUILLSTONE|2023|11|02|${hour}|53|36.14|-75.01|71.0|${direction}|${code}|5|FM-15|${speed}||${quality}|FM15|10.3|${sky}|1372`;
  const head =
    'Station_ID|Station_name|Year|Month|Day|Hour|Minute|Latitude|Longitude|Elevation|wind_direction|wind_direction_Measurement_Code|wind_direction_Quality_Code|wind_direction_Report_Type|wind_speed|wind_speed_Measurement_Code|wind_speed_Quality_Code|wind_speed_Report_Type|wind_gust|sky_cover_1|sky_cover_baseht_1';

  it('reads degrees and m/s, calm, variable, blank and suspect', async () => {
    const text = [
      head,
      row('00', '230', 'N-Normal', '4.1', '5', 'BKN:07'),
      row('01', '999', 'C-Calm', '0.0'),
      row('02', '999', 'V-Variable', '1.5'),
      row('03', '', '', ''),
      row('04', '230', '', '4.1', '3'),
      row('05', '999', '', '4.1'),
    ].join('\r\n');
    const { id, name, record, tally } = await only(text);
    expect([id, name]).toEqual(['USW00099999', 'QUILLSTONE']);
    expect(said(record)).toEqual([
      '2023-11-02T00:53 230 4.10 10.30 0.88 1372',
      '2023-11-02T01:53 - 0.00 10.30 - -',
      '2023-11-02T02:53 - 1.50 10.30 - -',
    ]);
    expect(tally).toMatchObject({ missing: 2, suspect: 1 });
  });
});

// Columns of W98 and W13: the public exchange layouts of the fire-weather archive
// (ftp.wildfire.gov weatherfirecd, pages 98 and 13), read to column 63; gust from memory.
describe('fire-weather stations', () => {
  const row = (
    kind: string,
    clock: string,
    direction: string,
    speed: string,
    unit = '1',
    gust = '   ',
  ) =>
    `W1399900120231102${clock}${kind}0 50 60${direction}${speed}`.padEnd(62) +
    `${unit}A    270${gust}\n`;

  it('asks for the clock, then reads miles or kilometres an hour; 0 is no direction', async () => {
    const text =
      row('R', '0000', '230', '  9', '1', ' 18') +
      row('O', '0100', '  0', '  0') +
      row('R', '0200', '  0', '  3') +
      row('R', '0300', '   ', '   ') +
      row('F', '0400', '230', '  9') +
      row('R', '0500', '360', ' 36', '2');
    expect(question(await open(text))).toBe('utc-offset');
    const { id, record, tally } = await only(text, { utcOffsetHours: -8 });
    expect(id).toBe('999001');
    expect(said(record)).toEqual([
      '2023-11-02T08:00 230 4.02 8.05 - -',
      '2023-11-02T09:00 - 0.00 - - -',
      '2023-11-02T10:00 - 1.34 - - -',
      '2023-11-02T13:00 360 10.00 - - -',
    ]);
    expect(tally).toMatchObject({ missing: 1, summaries: 1 });
  });
});

describe('any table, by its columns', () => {
  const text =
    'Date,Time,Temp,Wind Dir (deg),Wind Speed (mph),Gust (mph)\n' +
    '11/2/2023,12:53 AM,50,230,9,18\n11/2/2023,1:53 PM,51,SW,9,\n11/2/2023,2:53 PM,51,VRB,3,\n' +
    '11/2/2023,3:53 PM,51,calm,0,\n11/2/2023,4:53 PM,51,-9999,-9999,-9999\n11/2/2023,5:53 PM,51,999,9,\n';

  it('shows the head with a guess, and asks for the clock', async () => {
    const result = await open(text);
    expect(result).toMatchObject({
      kind: 'ask',
      question: 'columns',
      preview: {
        guess: { time: 0, clock: 1, direction: 3, speed: 4, gust: 5 },
        speedUnit: 'mph',
      },
    });
    const columns = { time: 0, clock: 1, direction: 3, speed: 4, gust: 5 };
    expect(question(await open(text, { columns }))).toBe('utc-offset');
    const { record, tally } = await only(text, { columns, utcOffsetHours: -5 });
    expect(said(record)).toEqual([
      '2023-11-02T05:53 230 4.02 8.05 - -',
      '2023-11-02T18:53 225 4.02 - - -',
      '2023-11-02T19:53 - 1.34 - - -',
      '2023-11-02T20:53 - 0.00 - - -',
    ]);
    expect(tally.missing).toBe(2);
  });

  it('reads dates with dots day first, and commas in numbers that nothing else could be', async () => {
    const dotted =
      'Date Time;Wind dir;Wind spd;x\n02.11.2023 00:53;230;2,1;z\n03.11.2023 1:53;240;4,5;z\n31.12.2023 23:53;250;3;z\n';
    const columns = { time: 0, clock: null, direction: 1, speed: 2, gust: null };
    // The first thing asked is what the table holds, then its unit: the dates are plain.
    expect(question(await open(dotted, { columns }))).toBe('speed-unit');
    const { record, tally } = await only(dotted, { columns, speedUnit: 'm/s', utcOffsetHours: 0 });
    expect(said(record).map((one) => one.slice(0, 25))).toEqual([
      '2023-11-02T00:53 230 2.10',
      '2023-11-03T01:53 240 4.50',
      '2023-12-31T23:53 250 3.00',
    ]);
    expect(tally).toMatchObject({ unreadableTime: 0, missing: 0 });
  });

  it('asks for the order of dates with slashes where both fit, and tells it where only one does', async () => {
    const slashed = (...dates: string[]) => `when;wd;ws\n${dates.map((date) => `${date};230;4\n`).join('')}`; // prettier-ignore
    const columns = { time: 0, clock: null, direction: 1, speed: 2, gust: null };
    const rest = { columns, speedUnit: 'm/s', utcOffsetHours: 0 } as const;
    const both = slashed('3/4/2023 00:53', '4/4/2023 00:53');
    expect(question(await open(both, { columns }))).toBe('date-order');
    const days = async (text: string, dateOrder?: 'day-first' | 'month-first') =>
      said((await only(text, { ...rest, ...(dateOrder && { dateOrder }) })).record).map((one) => one.slice(0, 10)); // prettier-ignore
    expect(await days(both, 'day-first')).toEqual(['2023-04-03', '2023-04-04']);
    expect(await days(both, 'month-first')).toEqual(['2023-03-04', '2023-04-04']);
    expect(await days(slashed('3/4/2023 00:53', '13/4/2023 00:53'))).toEqual(['2023-04-03', '2023-04-13']); // prettier-ignore
    expect(await days(slashed('3/4/2023 00:53', '3/14/2023 00:53'))).toEqual(['2023-03-04', '2023-03-14']); // prettier-ignore
    expect(await days(slashed('3/4/2023 1:53 PM'))).toEqual(['2023-03-04']);
  });

  it('refuses a table without any date before it asks for the unit', async () => {
    const columns = { time: 0, clock: null, direction: 1, speed: 2, gust: null };
    const text = 'when;wd;ws\nMonday;230;4\nTuesday;240;5\n';
    expect(refusal(await open(text, { columns }))).toBe('wind-no-time');
  });

  it('needs no clock where times carry their zone, and asks for a unit that no name states', async () => {
    const zoned =
      'when;wd;ws\n2023-11-02T00:53-05:00;230;4\n2023-11-02T01:53-05:00;240;5\n2023-11-02T07:53Z;250;6\n';
    const columns = { time: 0, clock: null, direction: 1, speed: 2, gust: null };
    expect(question(await open(zoned, { columns }))).toBe('speed-unit');
    const { record } = await only(zoned, { columns, speedUnit: 'm/s' });
    expect(said(record).map((row) => row.slice(0, 20))).toEqual([
      '2023-11-02T05:53 230',
      '2023-11-02T06:53 240',
      '2023-11-02T07:53 250',
    ]);
  });

  it('guesses columns without names from what stands in them', () => {
    const rows = Array.from({ length: 8 }, (_, i) => `2023110${i + 1}0053\t1012\t${40 * i}\t${i}`);
    const { guess } = guessWindColumns(valueOf(sniffWind('x', rows.join('\n'))));
    expect(guess).toMatchObject({ time: 0, direction: 2, speed: 3 });
  });

  it('refuses columns that are not there or twice the same', async () => {
    for (const bad of [
      { direction: 3, speed: 3 },
      { direction: 3, speed: 9 },
    ]) {
      const columns = { time: 0, clock: 1, gust: null, ...bad };
      expect(refusal(await open(text, { columns, utcOffsetHours: 0 }))).toBe('wind-columns');
    }
  });
});

describe('bad records', () => {
  const hours = (count: number, rest: (i: number) => string) =>
    'station,valid,drct,sknt\n' +
    Array.from({ length: count }, (_, i) => {
      const at = new Date(Date.UTC(2022, 9, 1, 0, 53) + i * 3_600_000).toISOString();
      return `QBX,${at.slice(0, 10)} ${at.slice(11, 16)},${rest(i)}\n`;
    }).join('');

  it('without a wind column, without a table, without a line', async () => {
    expect(refusal(await open('station,valid,tmpf\nQBX,2023-11-02 00:53,50\n'))).toBe(
      'wind-no-column',
    );
    expect(refusal(await open('STATION,DATE,CIG,VIS\n1,2023-11-02T00:53:00,"a","b"\n'))).toBe(
      'wind-no-column',
    );
    expect(refusal(await open('dear diary\nit blew today\n'))).toBe('wind-no-column');
    expect(refusal(await open(''))).toBe('wind-empty');
    expect(refusal(await open('station,valid,drct,sknt\n'))).toBe('wind-empty');
    expect(refusal(await open('\u0001\u0002\u0003'))).toBe('wind-not-text');
  });

  it('with everything missing, or no time that can be read', async () => {
    expect(refusal(await open(hours(50, () => 'M,M')))).toBe('wind-all-missing');
    expect(await open(hours(1, () => 'M,M'))).toMatchObject({ problem: { what: 'The one row of the record has no wind.' } }); // prettier-ignore
    expect(refusal(await open('station,valid,drct,sknt\nQBX,2023-02-30 00:53,200,5\n'))).toBe(
      'wind-no-time',
    );
  });

  it('in tens of degrees: asked, then read either way', async () => {
    const tens = hours(72, (i) => `${i % 37},5`);
    expect(question(await open(tens))).toBe('direction-unit');
    const { record } = await only(tens, { directionUnit: 'tens-of-degrees' });
    expect(record.fromDegrees[23]).toBe(230);
    expect((await only(tens, { directionUnit: 'degrees' })).record.fromDegrees[23]).toBe(23);
  });

  it('with directions over 360: left out and counted, refused where they are most', async () => {
    const { tally } = await only(hours(50, (i) => `${i === 7 ? 361 : 200 + i},5`));
    expect(tally).toMatchObject({ outOfRange: 1, kept: 49 });
    expect(refusal(await open(hours(50, (i) => `${i % 3 ? 400 : 200},5`)))).toBe(
      'wind-out-of-range',
    );
  });

  it('with a year of duplicates: each hour once', async () => {
    const year = hours(8760, (i) => `${(i * 10) % 360},5`);
    const twice = year + year.slice(year.indexOf('\n') + 1);
    const { tally, record } = await only(twice);
    expect(tally).toMatchObject({ rows: 17_520, kept: 8760, duplicates: 8760, gaps: 0 });
    expect(said(record)[8759]!.slice(0, 16)).toBe('2023-09-30T23:53');
  });

  it('can be stopped, and reads rows across pieces of 1 MB the same', async () => {
    const text = hours(60_000, (i) => `${(i * 10) % 360},5`);
    const bytes = new TextEncoder().encode(text);
    expect(bytes.length).toBeGreaterThan(1_500_000);
    const shares: number[] = [];
    const result = await openWind(
      memorySource('x', bytes),
      {},
      {
        onProgress: ({ share }) => void shares.push(share),
      },
    );
    expect(result).toMatchObject({
      kind: 'opened',
      stations: [{ tally: { kept: 60_000, gaps: 0 } }],
    });
    expect(shares.at(-1)).toBe(1);
    const stop = await openWind(
      memorySource('x', bytes),
      {},
      { shouldStop: () => shares.length > 0 },
    );
    expect(refusal(stop)).toBe('stopped');
  });
});

describe('files as archives give them', () => {
  const year = (from: number, hours: number, id = 'QBX', direction = 200) =>
    'station,valid,drct,sknt\n' +
    Array.from({ length: hours }, (_, i) => {
      const at = new Date(Date.UTC(from, 0, 1, 0, 53) + i * 3_600_000).toISOString();
      return `${id},${at.slice(0, 10)} ${at.slice(11, 16)},${direction + (i % 10)},5\n`;
    }).join('');
  const openBytes = (bytes: Uint8Array) => openWind(memorySource('wind.csv.gz', bytes));

  it('a gzip file is read as what is in it, and a damaged or cut one refused', async () => {
    const text = year(2019, 60_000);
    const packed = gzipSync(Buffer.from(text));
    const [plain, unpacked] = [await opened(text), await openBytes(packed)];
    expect(unpacked).toEqual(plain);
    expect(refusal(await openBytes(packed.subarray(0, packed.length - 3000)))).toBe(
      'wind-gzip-damaged',
    );
    const two = Buffer.concat([packed, gzipSync(Buffer.from('x'))]);
    expect(refusal(await openBytes(two))).toBe('wind-gzip-damaged');
    const hurt = Uint8Array.from(packed);
    hurt.fill(255, 2000, 2100);
    expect(refusal(await openBytes(hurt))).toBe('wind-gzip-damaged');
  });

  it('files of several years are one station, each hour once, by the earlier file', async () => {
    const files = [
      year(2021, 8760 + 5, 'QBX', 200),
      year(2020, 8784),
      year(2022, 100, 'QBX', 300),
      year(2022, 10, 'QBY'),
    ];
    const stations = [];
    for (const file of files) stations.push(...(await opened(file)).stations);
    const [qbx, qby, ...rest] = mergeStations(stations);
    expect([qbx!.id, qby!.id, rest.length]).toEqual(['QBX', 'QBY', 0]);
    expect(qbx!.record.count).toBe(8760 + 8784 + 100);
    expect(qbx!.tally).toMatchObject({ duplicates: 5, gaps: 0, rows: 8765 + 8784 + 100 });
    const times = [...qbx!.record.timeSeconds];
    expect(times).toEqual([...times].sort((a, b) => a - b));
    const at = (iso: string) => qbx!.record.fromDegrees[times.indexOf(Date.parse(iso) / 1000)];
    expect(at('2022-01-01T03:53:00Z')).toBe(203);
    expect(at('2022-01-01T05:53:00Z')).toBe(305);
  });
});
