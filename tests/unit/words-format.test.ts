import { describe, expect, it } from 'vitest';
import { hoursText } from '../../app/words/way-words.ts';
import { aboutLength, debrisQuantity, gapText } from '../../app/words/debris-words.ts';
import {
  areaQuantity,
  bearing,
  compassWord,
  coordinate,
  depthQuantity,
  elevationQuantity,
  fallQuantity,
  figure,
  lengthQuantity,
  rainQuantity,
  rangeQuantity,
  slopeQuantity,
  spoken,
  station,
  tape,
  volumeQuantity,
  windSpeedQuantity,
} from '../../app/words/format.ts';

// Factors: NIST Handbook 44, Appendix C (1 ft = 0.3048 m, 1 ac = 43,560 ft², 1 yd³ = 27 ft³,
// 1 mi = 5,280 ft, 1 in = 25.4 mm), written out here by hand.
const squareMetersPerAcre = 43_560 * 0.3048 * 0.3048;

describe('areas', () => {
  it('gives acres to 0.01 under ten and to 0.1 above', () => {
    // Trade notes §6.3: the bench plot of the demo is 3.11 ac.
    expect(spoken(areaQuantity(3.11 * squareMetersPerAcre, 'us'))).toBe('3.11 ac');
    expect(spoken(areaQuantity(160.14 * squareMetersPerAcre, 'us'))).toBe('160.1 ac');
  });
  it('gives square feet where acres would read 0.00', () => {
    // 20 m² = 215.278 ft² (NIST: 1 m² = 10.76391 ft²).
    expect(spoken(areaQuantity(20, 'us'))).toBe('215 ft²');
  });
  it('gives hectares and square metres', () => {
    expect(spoken(areaQuantity(12_586, 'metric'))).toBe('1.26 ha');
    expect(spoken(areaQuantity(2_792, 'metric'))).toBe('0.279 ha');
    expect(spoken(areaQuantity(153.7, 'metric'))).toBe('154 m²');
  });
  it('says so when there is none', () => {
    expect(spoken(areaQuantity(null, 'us'))).toBe('not known');
    expect(spoken(areaQuantity(Number.NaN, 'us'))).toBe('not known');
  });
});

describe('figures no finer than the survey', () => {
  it('reads 0.50 m on a 0.10 m survey as about 20 in, not 19.7', () => {
    // The example of the look-and-feel notes.
    expect(spoken(depthQuantity(0.5, 0.1, 'us'))).toBe('about 20 in');
  });
  it('coarsens with the error', () => {
    expect(spoken(depthQuantity(0.5, 0.5, 'us'))).toBe('about 20 in');
    expect(depthQuantity(0.48, 0.5, 'us').text).toBe('20');
    expect(depthQuantity(0.56, 0.5, 'us').text).toBe('20');
    expect(spoken(depthQuantity(0.005, 0.1, 'us'))).toBe('under 1 in');
    expect(spoken(depthQuantity(0.5, 0.1, 'metric'))).toBe('about 50 cm');
  });
  it('drops the tenth of a foot where one standard error is a foot', () => {
    // 234.36 m / 0.3048 = 768.9 ft.
    expect(spoken(elevationQuantity(234.36, 0.1, 'us'))).toBe('768.9 ft');
    expect(spoken(elevationQuantity(234.36, 0.5, 'us'))).toBe('769 ft');
    expect(spoken(elevationQuantity(234.36, 0.1, 'metric'))).toBe('234.4 m');
  });
  it('says about where the error moves the last digit', () => {
    expect(spoken(fallQuantity(1.8, 0.1, 'us'))).toBe('about 5.9 ft');
    expect(spoken(fallQuantity(35, 0.1, 'us'))).toBe('about 115 ft');
  });
  it('gives volumes two significant figures', () => {
    // Trade notes §6.3, §6.6: P1 holds 572 m³, about 750 yd³ (572 / 0.764555 = 748).
    expect(spoken(volumeQuantity(572, 'us'))).toBe('about 750 yd³');
    expect(spoken(volumeQuantity(9543, 'us'))).toBe('about 12,000 yd³');
    expect(spoken(volumeQuantity(0.3, 'us'))).toBe('under 1 yd³');
  });
});

describe('lengths, slopes, winds, rain', () => {
  it('rounds to what is walked', () => {
    // Trade notes §6.6: a 558 ft berm is 170.08 m.
    expect(spoken(lengthQuantity(170.0784, 'us'))).toBe('558 ft');
    expect(spoken(lengthQuantity(1601.4, 'us'))).toBe('5,254 ft');
    expect(spoken(lengthQuantity(42.37, 'metric'))).toBe('42.4 m');
    // 202 yd between two stands (trade notes §6.3) is 184.7 m.
    expect(spoken(rangeQuantity(184.7088, 'us'))).toBe('202 yd');
  });
  it('gives slope a tenth under ten percent', () => {
    expect(spoken(slopeQuantity(0.0217))).toBe('2.2 %');
    expect(spoken(slopeQuantity(0.0996))).toBe('10 %');
    expect(spoken(slopeQuantity(0.118))).toBe('12 %');
  });
  it('gives miles an hour and inches of rain', () => {
    // 4.4704 m/s is 10 mph and 43.18 mm is 1.70 in, both by definition.
    expect(spoken(windSpeedQuantity(4.4704, 'us'))).toBe('10 mph');
    expect(spoken(rainQuantity(0.04318, 'us'))).toBe('1.70 in');
    expect(spoken(rainQuantity(0.04318, 'metric'))).toBe('43 mm');
  });
});

describe('tape and stations', () => {
  it('reads as a tape does, and carries twelve inches into a foot', () => {
    expect(tape(3.6576, 'us')).toBe('12 ft');
    expect(tape(2.286, 'us')).toBe('7 ft 6 in');
    expect(tape(0.2032, 'us')).toBe('8 in');
    expect(tape(0.3048 * 4 - 0.001, 'us')).toBe('4 ft');
    expect(tape(2.3, 'metric')).toBe('2.3 m');
  });
  it('writes stations in hundreds of feet', () => {
    // Trade notes §7: station 1+25.
    expect(station(125 * 0.3048, 'us')).toBe('1+25');
    expect(station(0, 'us')).toBe('0+00');
    expect(station(99.7 * 0.3048, 'us')).toBe('1+00');
    expect(station(1038, 'metric')).toBe('1+038');
  });
});

describe('directions and places', () => {
  it('names the nearest of eight directions', () => {
    // Trade notes §6.1: the fall line of the demo runs to azimuth 143.
    expect(bearing(143)).toBe('SE 143°');
    expect(bearing(359.7)).toBe('N 0°');
    expect(bearing(-45)).toBe('NW 315°');
    expect(compassWord(202.4)).toBe('south');
    expect(compassWord(202.6)).toBe('southwest');
  });
  it('writes a place with its hemispheres', () => {
    expect(coordinate(-74.9963, 36.1403)).toBe('36.14030° N 74.99630° W');
    expect(coordinate(20, -33.5)).toBe('33.50000° S 20.00000° E');
  });
});

it('writes figures with commas, a true minus, and no minus nought', () => {
  expect(figure(1234567.891, 1)).toBe('1,234,567.9');
  expect(figure(-12.34, 1)).toBe('\u221212.3');
  expect(figure(-0.004, 2)).toBe('0.00');
  expect(figure(999, 0)).toBe('999');
});

it('what an estimate asks for has no more figures than it holds', () => {
  // 1,339 machine hours between 401 and 3,714: two figures; hundreds of feet in tens.
  expect(hoursText({ low: 401, likely: 1339, high: 3714 })).toBe('1,300 h (400 to 3,700)');
  expect(hoursText({ low: 1.34, likely: 3.67, high: 12.9 })).toBe('3.7 h (1.3 to 13)');
  expect(aboutLength(177.4, 'us')).toBe('about 580 ft');
  expect(debrisQuantity(0, 'us').text).toBe('0');
  expect(gapText({ stationMeters: 38.1, widthMeters: 17.35, reasons: ['water'] }, 'us')).toBe('1+25, 57 ft: water'); // prettier-ignore
});
