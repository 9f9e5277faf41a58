import { expect, test } from 'vitest';
import { stretchBearings } from '../../app/words/shot-words.ts';
import type { ShotDirection } from '../../geo/sight/shot-ring.ts';
import { shotStretches, type ShotStretch } from '../../geo/sight/shot-stretches.ts';
import { seeded } from '../seeded.ts';

const way = (bearingDegrees: number, state: ShotDirection['state'], about: string | null = null): ShotDirection => ({ bearingDegrees, state, reason: state === 'blocked' ? 'keep-clear' : null, about, blockedFromMeters: null, backstopMeters: null }); // prettier-ignore

/** Runs of all lengths, from one direction to the whole ring. */
function someRing(next: () => number): ShotDirection[] {
  const count = [36, 72, 180, 360][Math.floor(next() * 4)]!;
  const stay = 0.3 + 0.69 * next();
  let [state, about] = ['allowed' as ShotDirection['state'], null as string | null];
  return Array.from({ length: count }, (_, i) => {
    if (next() > stay) {
      state = (['allowed', 'blocked', 'no-target'] as const)[Math.floor(next() * 3)]!;
      about = state === 'blocked' ? ['A1', 'A2'][Math.floor(next() * 2)]! : null;
    }
    return way((360 * i) / count, state, about);
  });
}

const isIn = ({ fromDegrees, toDegrees }: ShotStretch, bearing: number, margin: number) =>
  [-360, 0, 360].some((turn) => bearing + turn >= fromDegrees + margin && bearing + turn <= toDegrees - margin); // prettier-ignore

test('stretches adjoin all round in whole degrees, and nothing barred is called allowed, on 400 rings', () => {
  const next = seeded(11);
  let bounds = 0;
  for (let k = 0; k < 400; k++) {
    const ring = someRing(next);
    const turn = (next() - 0.5) * 6;
    const stretches = shotStretches(ring, turn);
    expect(stretches.reduce((sum, one) => sum + one.toDegrees - one.fromDegrees, 0)).toBe(360);
    stretches.forEach((one, i) => {
      const after = stretches[(i + 1) % stretches.length]!;
      expect(one.toDegrees % 360).toBe(after.fromDegrees);
      expect([one.fromDegrees, one.toDegrees].every(Number.isInteger)).toBe(true);
      bounds++;
    });
    // Strictly inside what is called allowed no direction is anything else; all that is barred is barred.
    for (const { bearingDegrees, state } of ring) {
      const at = (bearingDegrees + turn + 360) % 360;
      const inside = stretches.filter((one) => isIn(one, at, 1e-6));
      if (state !== 'allowed') expect(inside.some((one) => one.state === 'allowed')).toBe(false);
      if (state === 'blocked') expect(stretches.some((one) => one.state === 'blocked' && isIn(one, at, -1))).toBe(true); // prettier-ignore
    }
  }
  expect(bounds).toBeGreaterThan(2000);
});

test('by hand: east alone of four; two barred meet midway; the next direction of what has no target', () => {
  const four = [0, 90, 180, 270].map((at) => way(at, at === 90 ? 'blocked' : 'allowed'));
  expect(shotStretches(four)).toMatchObject([
    { fromDegrees: 0, toDegrees: 180, state: 'blocked' },
    { fromDegrees: 180, toDegrees: 360, state: 'allowed' },
  ]);
  const ring = Array.from(
    { length: 180 },
    (_, i) =>
    i < 20 ? way(2 * i, 'blocked', 'A1') : i < 40 ? way(2 * i, 'blocked', 'A2') : way(2 * i, i < 90 ? 'no-target' : 'allowed'), // prettier-ignore
  );
  // 20 barred directions from 0 to 38, 20 from 40 to 78, none to aim at from 80 to 178, allowed 180 to 358.
  expect(shotStretches(ring).map((one) => [one.fromDegrees, one.toDegrees])).toEqual([[358, 399], [39, 80], [80, 180], [180, 358]]); // prettier-ignore
});

test('words go clockwise, name both ends and what a wide stretch goes round by', () => {
  const said = (fromDegrees: number, toDegrees: number) => stretchBearings({ fromDegrees, toDegrees } as ShotStretch); // prettier-ignore
  // Sixteen points of 22.5 degrees from north: 289 is nearest 292.5 (WNW), 249 nearest 247.5 (WSW).
  expect(said(289, 609)).toBe('WNW 289° round by N, E, and S to WSW 249°');
  expect(said(40, 95)).toBe('NE 40° to E 95°');
  expect(said(350, 370)).toBe('N 350° to N 10°');
  expect(said(90, 270)).toBe('E 90° to W 270°');
  expect(said(90, 271)).toBe('E 90° round by S and W to W 271°');
  expect(said(270, 460)).toBe('W 270° round by N and E to E 100°');
  expect(said(229, 229)).toBe('at SW 229°');
  expect(said(0, 360)).toBe('all round');
});
