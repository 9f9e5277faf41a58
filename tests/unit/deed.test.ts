import { describe, expect, it } from 'vitest';
import { cornersOf } from '../../app/page/bounds/corners-of.ts';
import { deedFigure } from '../../app/page/bounds/deed-figure.ts';
import { blankDeed } from '../../app/store/deed.ts';
import {
  closureJudgement,
  closureLine,
  courseWords,
  missWords,
  ratioWords,
  slipWords,
} from '../../app/words/deed-words.ts';
import { parseNorth } from '../../app/words/parse-north.ts';
import { parsePlace } from '../../app/words/parse-place.ts';
import { deedLength, quadrantBearing } from '../../app/words/survey-bearing.ts';
import { readSurveyCalls, type SurveyCall } from '../../geo/plan/construct/survey-calls.ts';
import { findSlips } from '../../geo/plan/construct/traverse-slip.ts';
import { runTraverse } from '../../geo/plan/construct/traverse.ts';
import { openGdal } from '../gdal.ts';
import { seeded } from '../seeded.ts';

function callsOf(text: string): readonly SurveyCall[] {
  const read = readSurveyCalls(text);
  if (!read.ok) throw new Error(read.problem.what);
  return read.value.calls;
}

describe('bearings and lengths as deeds write them', () => {
  // Quadrants by their definition: off north or south, toward east or west.
  it.each([
    [134.50388889, 'S 45°29\'46" E'],
    [0, 'due north'],
    [359.9999, 'due north'],
    [90, 'due east'],
    [180.00001, 'due south'],
    [270, 'due west'],
    [45.5, 'N 45°30\'00" E'],
    [225.5, 'S 45°30\'00" W'],
    [-3.25, 'N 3°15\'00" W'],
    // 59.6 seconds carry into the minute, and the minute into the degree.
    [12 + 59 / 60 + 59.6 / 3600, 'N 13°00\'00" E'],
  ])('%d', (degrees, words) => {
    expect(quadrantBearing(degrees)).toBe(words);
  });
  it('gives feet to a hundredth: the side of a square acre', () => {
    // 43,560 ft² by definition.
    expect(deedLength(Math.sqrt(43_560) * 0.3048, 'us')).toBe('208.71 ft');
    expect(deedLength(60.96, 'metric')).toBe('60.960 m');
  });
  it('reads back to what was written, to the second and the hundredth', () => {
    const random = seeded(41);
    for (let i = 0; i < 500; i++) {
      const call: SurveyCall = {
        bearingDegrees: random() * 360,
        distanceMeters: 1 + random() * 900,
        curve: null,
        text: '',
      };
      const [again] = callsOf(courseWords(call, 'us'));
      const turned = Math.abs(again!.bearingDegrees - call.bearingDegrees);
      expect(Math.min(turned, 360 - turned) * 3600).toBeLessThanOrEqual(0.5001);
      expect(Math.abs(again!.distanceMeters - call.distanceMeters)).toBeLessThan(0.0051 * 0.3048);
    }
  });
  it('says a curve by side, radius and chord', () => {
    const [call] = callsOf("curve to the left, radius 200 ft, chord N 20°10' E 148 ft");
    expect(courseWords(call!, 'us')).toBe(
      'curve to the left, radius 200.00 ft, chord N 20°10\'00" E, 148.00 ft',
    );
    expect(callsOf(courseWords(call!, 'us'))[0]!.curve).toEqual(call!.curve);
  });
});

describe('a place as it is typed', () => {
  it.each([
    ['36.12345, -75.01234', -75.01234, 36.12345],
    ['36.12345 -75.01234', -75.01234, 36.12345],
    ['36.12345 N 75.01234 W', -75.01234, 36.12345],
    ['N 36.12345, W 75.01234', -75.01234, 36.12345],
    ['36°07\'24.42" N, 75°00\'44.424" W', -75.01234, 36.12345],
    ['36° 7.407′ N 75° 0.7404′ W', -75.01234, 36.12345],
    ['−33.5, 151.2', 151.2, -33.5],
    ['S33.5 E151.2', 151.2, -33.5],
  ])('%s', (text, lng, lat) => {
    const place = parsePlace(text);
    expect(place![0]).toBeCloseTo(lng, 9);
    expect(place![1]).toBeCloseTo(lat, 9);
  });
  it.each(['', '36.1', '36.1, 190', '96.1, -75', "36°61' N 75 W", '-36 S 75 W', 'here', '1, 2, 3'])(
    'refuses %j',
    (text) => {
      expect(parsePlace(text)).toBeNull();
    },
  );
});

it.each([
  ['3.5 W', -3.5],
  ["3°30' east", 3.5],
  ['W 10', -10],
  ['−1.25', -1.25],
  ['', 0],
  ['0 W', 0],
  ['-3 W', null],
  ['60 E', null],
  ['north', null],
])('a deed’s north at %j', (text, degrees) => {
  expect(parseNorth(text)).toBe(degrees);
});

describe('closure in words', () => {
  const judged = (text: string) => {
    const calls = callsOf(text);
    return closureJudgement(runTraverse(calls), calls.length);
  };
  // Misses by hand: the last side of a 100 ft square too short.
  it.each([
    ['N 100 ft\nE 100 ft\nS 100 ft\nW 100 ft', 'note', 'It closes.'],
    ['N 100 ft\nE 100 ft\nS 100 ft\nW 99.95 ft', 'note', 'It closes well.'],
    ['N 100 ft\nE 100 ft\nS 100 ft\nW 99.5 ft', 'caution', 'It closes like compass and chain.'],
    ['N 100 ft\nE 100 ft\nS 100 ft\nW 50 ft', 'caution', 'It closes poorly.'],
    ['N 100 ft\nE 100 ft', 'note', 'Not round yet.'],
  ])('%j', (text, level, lead) => {
    expect(judged(text)).toMatchObject({ level, lead });
  });
  it('says what is left to go, and one in how much', () => {
    const traverse = runTraverse(callsOf('N 100 ft\nE 100 ft\nS 100 ft\nW 99.5 ft'));
    expect(missWords(traverse, 'us')).toBe('0.50 ft, due west');
    // 399.5 / 0.5.
    expect(ratioWords(traverse.closure)).toBe('1 in 799');
    expect(closureLine(traverse, 4)).toBe('It closes like compass and chain: 1 in 799.');
    const closed = runTraverse(callsOf('N 100 ft\nE 100 ft\nS 100 ft\nW 100 ft'));
    expect(missWords(closed, 'us')).toBe('nothing');
    expect(ratioWords(closed.closure)).toBe('it closes');
    expect(closureLine(closed, 4)).toBe('It closes.');
  });
});

describe('a course copied wrong', () => {
  // A four-sided parcel that closes to a hundredth of a foot, by latitudes and departures.
  const sound = ['N 10 E 300 ft', 'S 75 E 410 ft', 'S 5 W 350 ft'];
  const end = runTraverse(callsOf(sound.join('\n'))).closure;
  const last = courseWords(
    {
      bearingDegrees: end.bearingDegrees!,
      distanceMeters: end.distanceMeters,
      curve: null,
      text: '',
    },
    'us',
  );
  it('is found with its E and W exchanged, and with it the way out', () => {
    const slips = findSlips(callsOf(['N 10 W 300 ft', sound[1], sound[2], last].join('\n')));
    expect(slips.map(({ index, kind }) => [index, kind])).toEqual([[0, 'east-for-west']]);
    expect(slips[0]!.bearingDegrees).toBeCloseTo(10, 9);
    expect(slips[0]!.ratio).toBeGreaterThan(50_000);
    expect(slipWords(slips)).toMatch(
      /^If course 1 has E and W exchanged \(N 10°00'00" E\), it would close to 1 in/,
    );
  });
  it('is found walked the other way, and with N and S exchanged', () => {
    const back = findSlips(callsOf([sound[0], 'N 75 W 410 ft', sound[2], last].join('\n')));
    expect(back.map(({ index, kind }) => [index, kind])).toEqual([[1, 'turned-round']]);
    const south = findSlips(callsOf([sound[0], sound[1], 'N 5 W 350 ft', last].join('\n')));
    expect(south.map(({ index, kind }) => [index, kind])).toEqual([[2, 'north-for-south']]);
  });
  it('names both of opposite sides that cannot be told apart', () => {
    const slips = findSlips(callsOf('N 100 m\nE 100 m\nN 100 m\nW 100 m'));
    expect(slips.map(({ index }) => index)).toEqual([0, 2]);
    expect(slipWords(slips)).toContain('or course 3');
  });
  it('is not made up where a course is missing', () => {
    expect(findSlips(callsOf(sound.join('\n')))).toEqual([]);
    expect(slipWords([])).toBe('');
  });
});

describe('the figure on the map', () => {
  const acre = 'N 208.71 ft\nE 208.71 ft\nS 208.71 ft\nW 208.71 ft';
  const start: [number, number] = [-75.01, 36.14];

  it('is a line on the way to an outline, then one acre', () => {
    const two = deedFigure({ ...blankDeed, start, text: 'N 208.71 ft\nE 208.71 ft' });
    expect(two.shape).toMatchObject({ kind: 'section-line', geometry: { type: 'LineString' } });
    const whole = deedFigure({ ...blankDeed, start, text: acre });
    expect(whole.shape).toMatchObject({ kind: 'property-line', corners: 4 });
    // 4,046.8564224 m² by definition; 208.71 ft is rounded to a hundredth.
    expect(whole.shape!.areaSquareMeters! / 4046.8564224).toBeCloseTo(1, 4);
    expect(deedFigure({ ...blankDeed, text: acre }).shape).toBeNull();
  });

  it('stands where GDAL puts it, turned by the declination', async () => {
    const { shape } = deedFigure({ ...blankDeed, start, text: acre, northDegrees: -10 });
    const ring = shape!.geometry.type === 'Polygon' ? shape!.geometry.coordinates[0]! : [];
    const gdal = await openGdal();
    const plane = `+proj=aeqd +lat_0=${start[1]} +lon_0=${start[0]} +ellps=GRS80`;
    const placed = await gdal.transform(ring, 'OGC:CRS84', plane);
    const side = 208.71 * 0.3048;
    const [cos, sin] = [Math.cos(Math.PI / 18), Math.sin(Math.PI / 18)];
    // Ten degrees west of true north is a turn to the left.
    const wanted = [
      [0, 0],
      [-side * sin, side * cos],
      [side * (cos - sin), side * (cos + sin)],
      [side * cos, side * sin],
      [0, 0],
    ];
    placed.forEach(([x, y], i) => {
      expect(Math.hypot(x - wanted[i]![0]!, y - wanted[i]![1]!)).toBeLessThan(0.0005);
    });
  });

  it('keeps the missing corner as called, and shares the miss by the compass rule', () => {
    const text = 'N 100 ft\nE 100 ft\nS 100 ft\nW 99 ft';
    expect(deedFigure({ ...blankDeed, start, text }).shape).toMatchObject({ corners: 5 });
    const balanced = deedFigure({ ...blankDeed, start, text, closes: 'balanced' });
    expect(balanced.shape).toMatchObject({ corners: 4 });
  });

  it('stops at the call that cannot be read, and passes other words over', () => {
    const text = 'Beginning at a stone; thence N 100 ft; thence E 100; thence S 100 ft';
    const figure = deedFigure({ ...blankDeed, start, text });
    expect(figure).toMatchObject({ count: 1, stopsAt: 1 });
    expect(figure.courses.filter(({ read }) => read === null).map(({ words }) => words)).toEqual([
      'Beginning at a stone',
    ]);
  });
});

it('names the outermost corners', () => {
  const ring: [number, number][] = [
    [0, 0],
    [0, 2],
    [1, 1],
    [2, 2],
    [2, 0],
    [0, 0],
  ];
  const named = cornersOf({ type: 'Polygon', coordinates: [ring] });
  expect(named.map(({ words }) => words)).toEqual([
    '1, southwest',
    '2, northwest',
    '3',
    '4, northeast',
    '5, southeast',
  ]);
});
