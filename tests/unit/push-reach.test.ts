import { expect, it } from 'vitest';
import { neededFor } from '../answers-rig.ts';
import { demoAnswers } from '../demo-answers.ts';

// One setting says how far debris is pushed, and everything that pushes goes by it.

const asked = neededFor('clearingWays', 'clearingWork', 'debris');

it.each([18, 40])(
  'nothing is pushed farther than %i m, in the plan, its hours and the ways',
  async (meters) => {
    const { site, features } = await demoAnswers(
      [],
      { pushReachMeters: meters },
      'ground.tif',
      asked,
    );
    const { push } = site.clearingWork!.value!;
    expect(push!.greatestMeters).toBeLessThanOrEqual(meters);
    expect(push!.leftOverCubicMeters).toBeGreaterThan(0);
    // Two reckonings of the same: piece by piece at the least work, and the shortest push first.
    const whole = site.debris!.value.looseCubicMeters.likely;
    const apart = push!.leftOverCubicMeters - site.debris!.value.leftOverCubicMeters;
    expect(Math.abs(apart)).toBeLessThan(0.05 * whole);
    for (const id of ['A', 'B']) {
      const { ways, debrisCubicMeters } = features[id]!.clearingWays!.value;
      for (const way of ways) {
        expect(way.greatestPushMeters).toBeLessThanOrEqual(meters);
        expect(way.leftOverCubicMeters).toBeGreaterThanOrEqual(debrisCubicMeters.likely - way.holdsCubicMeters - 1e-6); // prettier-ignore
      }
    }
    // Along the edge of a plot 74 m deep, what lies farther than the reach stays.
    const edge = features['A']!.clearingWays!.value.ways[1]!;
    expect(edge.leftOverCubicMeters / features['A']!.clearingWays!.value.debrisCubicMeters.likely).toBeGreaterThan(0.9 - meters / 74); // prettier-ignore
  },
);
