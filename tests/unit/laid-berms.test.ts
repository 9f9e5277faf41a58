import { describe, expect, it } from 'vitest';
import type { WayKind } from '../../geo/answers/debris-answers.ts';
import { hasGaps } from '../../geo/answers/gaps-wanted.ts';
import type { PlanFeature } from '../../geo/plan/feature.ts';
import { blankProperties } from '../../geo/plan/kinds.ts';
import type { Settings } from '../../geo/plan/settings.ts';
import { answersOf, neededFor, placeFrom, plotOf, standOf } from '../answers-rig.ts';
import { demoAnswers } from '../demo-answers.ts';
import { seeded } from '../seeded.ts';

// What one part of the tool lays out, another must not fault: the same gaps, the same section.

type Berm = PlanFeature<'berm'>;
const ways = neededFor('clearingWays');
const gaps = neededFor('bermGaps');

function bermsOf(features: readonly PlanFeature[]): Berm[] {
  return features.filter((one): one is Berm => one.kind === 'berm');
}

/** Where a seat looks straight through every gap, or one that must be, moving things is up to the user. */
const ofSeats = ['gap-faces-seat', 'gaps-barred'];

function askedOf(berm: Berm, answers: ReturnType<typeof answersOf>): string[] {
  const { value, findings } = answers.features[berm.id]!.bermGaps!;
  const codes = findings.map(({ code }) => code).filter((code) => !ofSeats.includes(code));
  if (findings.some(({ code }) => code === 'gaps-barred')) return codes;
  const isSet = hasGaps(berm.properties, value.gaps, value.section);
  return isSet ? codes : [...codes, `wants ${value.gaps.map((gap) => gap.stationMeters.toFixed(1)).join()}`]; // prettier-ignore
}

describe('on the demo’s ground', () => {
  const cases: readonly [string, Partial<Settings>][] = [
    ['as it is', {}],
    ['narrow gaps close together', { gapWidthMeters: 3.6576, gapSpacingMeters: 30.48 }],
    ['wide gaps far apart', { gapWidthMeters: 6.096, gapSpacingMeters: 76.2 }],
    ['low berms', { bermMaxHeightMeters: 2.4384 }],
  ];
  it.each(cases)('an edge berm and a windrow just laid want nothing: %s', async (_, settings) => {
    const laid = await demoAnswers([], settings, 'ground.tif', ways);
    const kinds: WayKind[] = [];
    for (const id of ['A', 'B']) {
      for (const way of laid.features[id]!.clearingWays!.value.ways) {
        const [berm] = bermsOf(way.features);
        if (!berm) continue;
        kinds.push(way.way);
        const then = await demoAnswers(way.features, settings, 'ground.tif', gaps);
        expect([id, way.way, askedOf(berm, then)]).toEqual([id, way.way, []]);
      }
    }
    expect(kinds).toEqual(['edge-berm', 'centre-windrow', 'edge-berm', 'centre-windrow']);
  });
});

it('on seeded fields with lanes and stands, without ground', () => {
  const next = seeded(20_260_301);
  const origin: [number, number] = [-93, 36];
  let laidCount = 0;
  for (let run = 0; run < 40; run++) {
    const [wide, high] = [80 + 160 * next(), 60 + 120 * next()];
    const at = (x: number, y: number) => placeFrom(origin, x, y);
    const ring = [at(0, 0), at(wide, 0), at(wide + 30 * next(), high), at(-20 * next(), high)];
    const field = plotOf('field', [ring]);
    const block: PlanFeature = {
      ...field,
      id: 'block',
      kind: 'timber-block',
      properties: {
        ...blankProperties('timber-block'),
        tally: [{ speciesGroup: 'pine', diameterMeters: 0.2, stemsPerHectare: 300 + 900 * next(), soldShare: 0 }], // prettier-ignore
      },
    };
    const lane: PlanFeature = {
      ...field,
      id: 'lane',
      kind: 'lane',
      geometry: { type: 'LineString', coordinates: [at(wide * next(), -60), at(wide * next(), high + 60)] }, // prettier-ignore
      properties: blankProperties('lane'),
    };
    const stands = [0, 1].map((i) =>
      standOf(`s${i}`, at(wide * next(), -25 + (high + 50) * next())),
    );
    const around = [block, lane, ...stands];
    const { features } = answersOf([field, ...around], null, {}, ways);
    for (const way of features['field']?.clearingWays?.value.ways ?? []) {
      for (const berm of bermsOf(way.features)) {
        laidCount++;
        const then = answersOf([field, ...around, berm], null, {}, gaps);
        expect([run, way.way, askedOf(berm, then)]).toEqual([run, way.way, []]);
      }
    }
  }
  expect(laidCount).toBeGreaterThan(60);
});
