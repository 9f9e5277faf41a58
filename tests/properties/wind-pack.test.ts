import { expect, it } from 'vitest';
import { packRecord, unpackRecord } from '../../geo/formats/wind/pack-record.ts';
import type { WindRecord } from '../../geo/plan/wind-record.ts';
import { seeded } from '../seeded.ts';

function recordOf(seed: number, count: number): WindRecord {
  const random = seeded(seed);
  const maybe = (value: number) => (random() < 0.2 ? NaN : value);
  const column = (make: () => number) => Float32Array.from({ length: count }, make);
  let time = 1_500_000_000 - (1_500_000_000 % 60);
  const timeSeconds = Float64Array.from({ length: count }, () => {
    time += 60 * (random() < 0.01 ? 100_000 : 1 + Math.floor(random() * 90));
    return time;
  });
  return {
    count,
    timeSeconds,
    fromDegrees: column(() => maybe(10 * (1 + Math.floor(random() * 36)))),
    speedMetersPerSecond: column(() => (random() < 0.1 ? 0 : random() * 20)),
    gustMetersPerSecond: column(() => maybe(random() * 30)),
    cloudShare: column(() => maybe(Math.round(random() * 8) / 8)),
    ceilingMeters: column(() => (random() < 0.2 ? Infinity : maybe(random() * 9000))),
  };
}

it('a record packed and unpacked is the same to what an anemometer reports, gaps of months too', () => {
  for (let seed = 1; seed <= 20; seed++) {
    const record = recordOf(seed, 1 + seed * 37);
    const back = unpackRecord(packRecord(record));
    if (!back.ok) throw new Error(back.problem.what);
    expect(back.value.count).toBe(record.count);
    expect(back.value.timeSeconds).toEqual(record.timeSeconds);
    expect(back.value.fromDegrees).toEqual(record.fromDegrees);
    const off = (
      key: 'speedMetersPerSecond' | 'gustMetersPerSecond' | 'cloudShare' | 'ceilingMeters',
      most: number,
    ) => {
      // prettier-ignore
      for (let i = 0; i < record.count; i++) {
        const [was, is] = [record[key][i]!, back.value[key][i]!];
        if (Number.isFinite(was)) expect(Math.abs(is - was)).toBeLessThanOrEqual(most);
        else expect(is).toBe(was);
      }
    };
    off('speedMetersPerSecond', 0.0251);
    off('gustMetersPerSecond', 0.0251);
    off('cloudShare', 0.00501);
    off('ceilingMeters', 5.01);
    // Calm stays calm: exactly nothing.
    record.speedMetersPerSecond.forEach((speed, i) => {
      if (speed === 0) expect(back.value.speedMetersPerSecond[i]).toBe(0);
    });
  }
});

it('a text that is no record is a problem, not a crash', () => {
  const good = packRecord(recordOf(3, 50));
  for (const bad of ['', 'x', '%%%', good.slice(0, 40), `${good.slice(0, -8)}AAAAAAAA`]) {
    expect(unpackRecord(bad).ok).toBe(false);
  }
});
