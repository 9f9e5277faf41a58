import { describe, expect, it } from 'vitest';
import {
  ago,
  dateField,
  dayAround,
  isZone,
  onDate,
  shortDate,
  span,
  surveyDate,
  timeOfDay,
  zoneInUse,
} from '../../app/words/clock.ts';

const zone = 'America/New_York';
const hour = 3_600_000;

describe("a place's own clock", () => {
  it('shows the evening of the demo', () => {
    // Eastern Standard Time is UTC-5: 21:10 UTC is 4:10 pm.
    const instant = Date.parse('2026-11-14T21:10:00Z');
    expect(timeOfDay(instant, zone)).toBe('4:10 pm');
    expect(shortDate(instant, zone)).toBe('Nov 14');
    expect(dateField(instant, zone)).toBe('2026-11-14');
  });
  it('writes noon and midnight as twelve', () => {
    expect(timeOfDay(Date.parse('2026-11-14T05:00:00Z'), zone)).toBe('12:00 am');
    expect(timeOfDay(Date.parse('2026-11-14T17:05:00Z'), zone)).toBe('12:05 pm');
  });
  it('has days of 23, 24 and 25 hours', () => {
    // US daylight saving time, 15 U.S.C. 260a: second Sunday of March to first Sunday of November.
    const lengthOf = (date: string) => {
      const { start, end } = dayAround(Date.parse(`${date}T17:00:00Z`), zone);
      return (end - start) / hour;
    };
    expect(lengthOf('2026-03-08')).toBe(23);
    expect(lengthOf('2026-11-14')).toBe(24);
    expect(lengthOf('2026-11-01')).toBe(25);
  });
  it('keeps the time of day on another date, across the change of clocks', () => {
    const instant = Date.parse('2026-11-14T21:10:00Z');
    const moved = onDate(instant, '2026-10-03', zone)!;
    expect(timeOfDay(moved, zone)).toBe('4:10 pm');
    expect(dateField(moved, zone)).toBe('2026-10-03');
    expect(onDate(instant, 'soon', zone)).toBeNull();
  });
  it('falls back to a zone that exists', () => {
    expect(isZone('America/New_York')).toBe(true);
    expect(isZone('Nowhere/Else')).toBe(false);
    expect(zoneInUse('Nowhere/Else')).toBe(zoneInUse(''));
    expect(isZone(zoneInUse(''))).toBe(true);
  });
});

it('says how long ago in words', () => {
  expect(ago(300)).toBe('just now');
  expect(ago(2000)).toBe('2 s ago');
  expect(ago(90_000)).toBe('2 min ago');
  expect(ago(3 * hour)).toBe('3 h ago');
  expect(ago(72 * hour)).toBe('3 days ago');
  expect(ago(-500)).toBe('just now');
});

it('says spans of minutes without their sign', () => {
  expect(span(-41.2)).toBe('41 min');
  expect(span(125)).toBe('2 h 5 min');
  expect(span(180)).toBe('3 h');
});

it('writes survey dates as exactly as they are known', () => {
  expect(surveyDate('2024')).toBe('2024');
  expect(surveyDate('2024-03')).toBe('Mar 2024');
  expect(surveyDate('2024-03-08')).toBe('Mar 8, 2024');
});
