import { expect, it } from 'vitest';
import { metarWind } from '../../geo/formats/wind/metar-wind.ts';

const KNOT = 1852 / 3600;

// FMH-1 chapter 12 and the training examples of handbook section 7.5 (C 48, C 49).
it.each([
  ['METAR KXYZ 121853Z 13008KT 10SM', 130, 8, NaN, null],
  ['KXYZ 121853Z 08032G45KT 3SM', 80, 32, 45, null],
  ['KXYZ 121853Z VRB04KT 10SM', NaN, 4, NaN, null],
  ['KXYZ 121853Z 00000KT 10SM', NaN, 0, NaN, null],
  ['KXYZ 121853Z 32012G22KT 280V350 10SM', 320, 12, 22, [280, 350]],
  ['KXYZ 121853Z 21010KT 160V250 10SM', 210, 10, NaN, [160, 250]],
  ['KXYZ 121853Z 360105G130KT', 360, 105, 130, null],
] as const)('%s', (report, degrees, knots, gust, between) => {
  const wind = metarWind(report)!;
  expect(wind.fromDegrees).toEqual(degrees);
  expect(wind.speedMetersPerSecond).toBeCloseTo(knots * KNOT, 9);
  if (Number.isNaN(gust)) expect(wind.gustMetersPerSecond).toBeNaN();
  else expect(wind.gustMetersPerSecond).toBeCloseTo(gust * KNOT, 9);
  expect(wind.between).toEqual(between);
});

it('reads metres a second, and no wind from /////KT or from the remarks', () => {
  expect(metarWind('ULLI 121830Z 24005MPS 9999')!.speedMetersPerSecond).toBe(5);
  expect(metarWind('KXYZ 121853Z /////KT 10SM RMK AO2')).toBeNull();
  expect(metarWind('KXYZ 121853Z 10SM RMK 28045KT')).toBeNull();
});
