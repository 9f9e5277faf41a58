import { solidParts } from '../debris/berm-parts.ts';
import { lineLengthMeters } from '../frame/geodesic.ts';
import { isKind, type PlanFeature } from '../plan/feature.ts';
import { lineLength } from '../plan/line-geometry.ts';
import type { DammedPond } from '../water/dammed-water.ts';
import type { FlowCatchments } from '../water/flow-lines.ts';
import type { Work } from '../work.ts';
import type { Answer } from './answers.ts';
import type { DamPond, Damming, TurnedFlow } from './dam-answers.ts';
import { cutsAcross, type CutAcross } from './cuts-across.ts';
import { dammedOutlines } from './dammed-outlines.ts';
import { damWindow, type DamWindow } from './dam-window.ts';
import type { FeatureDefinition, GroundInUse, Inputs } from './definition.ts';
import { dryHours, dryingOf } from './drying.ts';
import type { Finding } from './finding.ts';
import { finding, listedDepthMeters, surveyConfidence } from './ground-inputs.ts';
import { carriedKinds, isRaised, lineInFrame } from './plan-on-ground.ts';
import type { SurfaceClasses } from './surface-classes.ts';
import { turnedFlows, type DamLine } from './turned-flows.ts';
import { carriedOf } from './water-ground.ts';

/** Crops drown in standing water after so long (trade notes Q1). */
const CROP_HOURS = 24;

export const dammingReads = [
  'raster:ground',
  'record:ground',
  'answer:bareFlow',
  'setting:listMinDepthMeters',
  'setting:listMinAreaSquareMeters',
  'setting:gapWidthMeters',
  'setting:gapCatchmentSquareMeters',
  ...carriedKinds.map((kind) => `features:${kind}` as const),
] as const;

/** What a berm, heap, or road or lane on a fill dams and turns aside. */
export const damming: FeatureDefinition = {
  name: 'damming',
  per: ['berm', 'heap', 'structure', 'lane'],
  reads: [...dammingReads, 'answer:surfaceClasses', 'answer:drying'],
  *compute(inputs, feature): Work<Answer<Damming> | null> {
    const held = yield* heldBack(inputs, feature);
    if (!held) return null;
    const value = yield* damValue(inputs, held);
    return {
      value,
      findings: [...findingsOf(feature, value), ...acrossFindings(feature, held.crossed)],
      basis: {
        method: [
          'Fills the ground brim full with everything drawn but this, and again with it: where water stands higher, this dams it.',
          'Water comes down to it where so much ground drains across its line (D-infinity on the ground as surveyed), and is followed from there to where it gets past now.',
        ],
        source:
          'Difference of two depression fills; Tarboton 1997, Water Resources Research 33:309–319 (D-infinity).',
        inputs: basisInputs(inputs, held),
        confidence: surveyConfidence(held.ground),
      },
    };
  },
};

export interface HeldBack {
  readonly ground: GroundInUse;
  readonly around: DamWindow;
  readonly others: readonly PlanFeature[];
  readonly counts: (pond: DammedPond) => boolean;
  readonly line: DamLine | null;
  readonly turned: readonly TurnedFlow[] | null;
  readonly crossed: readonly CutAcross[];
}

export function* heldBack(inputs: Inputs, feature: PlanFeature): Work<HeldBack | null> {
  const others = carriedOf(inputs).filter(({ id }) => id !== feature.id);
  return yield* heldBackAmong(inputs, feature, others);
}

/** What a feature, drawn or only thought of, holds back and turns where these others stand. */
export function* heldBackAmong(
  inputs: Inputs,
  feature: PlanFeature,
  others: readonly PlanFeature[],
): Work<HeldBack | null> {
  const ground = inputs.raster('ground');
  if (!ground || !isRaised(feature)) return null;
  const leastDepth = listedDepthMeters(inputs, ground);
  const leastArea = inputs.settings.listMinAreaSquareMeters;
  const counts = (pond: DammedPond) =>
    pond.maxDepthMeters >= leastDepth && pond.areaSquareMeters >= leastArea;
  const around = yield* damWindow(ground, feature, others, counts);
  if (!around) return null;
  const line = damLine(ground, feature);
  const flow = inputs.answer('bareFlow') as FlowCatchments | null;
  const limits = {
    gapWidthMeters: inputs.settings.gapWidthMeters,
    minSquareMeters: inputs.settings.gapCatchmentSquareMeters,
  };
  const turned = flow && line ? yield* turnedFlows(ground, around, line, flow, limits) : null;
  const crossed = line ? cutsAcross(ground, feature, line, others) : [];
  return { ground, around, others, counts, line, turned, crossed };
}

/** Limits by which it is told what is dammed and turned, for the basis of an answer. */
export function basisInputs(inputs: Inputs, { ground }: HeldBack) {
  const { settings } = inputs;
  return {
    leastDepthMeters: listedDepthMeters(inputs, ground),
    leastAreaSquareMeters: settings.listMinAreaSquareMeters,
    leastCatchmentSquareMeters: settings.gapCatchmentSquareMeters,
    gapWidthMeters: settings.gapWidthMeters,
  };
}

/** Its line in frame metres, what stands of it, and how its stations are scaled; null for a heap. */
function damLine(ground: GroundInUse, feature: PlanFeature): DamLine | null {
  const line = lineInFrame(ground, feature);
  if (!line || feature.geometry.type !== 'LineString' || !(lineLength(line) > 0)) return null;
  const groundLengthMeters = lineLengthMeters(feature.geometry.coordinates);
  const gaps = isKind(feature, 'berm') ? feature.properties.gaps : [];
  return {
    line,
    frameMetersPerMeter: lineLength(line) / groundLengthMeters,
    lengthMeters: groundLengthMeters,
    solid: solidParts(groundLengthMeters, gaps),
  };
}

function* damValue(inputs: Inputs, { ground, around, counts, turned }: HeldBack): Work<Damming> {
  const soils = inputs.answer('surfaceClasses') as SurfaceClasses | null;
  const dries = dryingOf(inputs);
  const { grid } = around.sub;
  const shown = around.ponds.filter(counts);
  const outlines = yield* dammedOutlines(around, shown);
  const ponds = shown.map((pond, i): DamPond => {
    const row = Math.floor(pond.deepestCell / grid.width);
    const column = pond.deepestCell - row * grid.width;
    const cell = (around.window.row + row) * ground.grid.width + around.window.column + column;
    const intake = soils?.classes[soils.classOf[cell]!]?.intakeMetersPerSecond ?? 0;
    return {
      areaSquareMeters: pond.areaSquareMeters,
      volumeCubicMeters: pond.volumeCubicMeters,
      maxDepthMeters: pond.maxDepthMeters,
      hoursToDry: dryHours(dries, pond.maxDepthMeters, intake),
      deepestAt: ground.frame.toLngLat(
        grid.west + (column + 0.5) * grid.cellWidth,
        grid.north - (row + 0.5) * grid.cellHeight,
      ),
      outline: outlines[i]!,
    };
  });
  const hours = ponds.map(({ hoursToDry }) => hoursToDry);
  return {
    ponds,
    areaSquareMeters: sum(ponds, 'areaSquareMeters'),
    volumeCubicMeters: sum(ponds, 'volumeCubicMeters'),
    maxDepthMeters: Math.max(0, ...ponds.map(({ maxDepthMeters }) => maxDepthMeters)),
    hoursToDry: hours.includes(null) ? null : Math.max(0, ...(hours as number[])),
    turned,
  };
}

function sum<K extends string>(of: readonly Readonly<Record<K, number>>[], key: K): number {
  return of.reduce((all, one) => all + one[key], 0);
}

function acrossFindings({ id }: PlanFeature, crossed: readonly CutAcross[]): Finding[] {
  return crossed.map(({ ditch, stationMeters }) =>
    finding('caution', 'berm-across-ditch', [id], { ditch: ditch.name, stationMeters }),
  );
}

function findingsOf(feature: PlanFeature, dams: Damming): Finding[] {
  const { id } = feature;
  const findings: Finding[] = [];
  const { areaSquareMeters, maxDepthMeters, hoursToDry } = dams;
  if (dams.ponds.length > 0) {
    const isLong = hoursToDry === null || hoursToDry > CROP_HOURS;
    const gaps = isKind(feature, 'berm') ? feature.properties.gaps.length : 0;
    const values = { areaSquareMeters, maxDepthMeters, hours: hoursToDry, gaps };
    findings.push(finding(isLong ? 'caution' : 'note', 'dams-water', [id], values));
  }
  const turned = dams.turned?.filter(({ passesBy }) => passesBy !== 'a-gap') ?? [];
  if (turned.length > 0) {
    const most = turned.toSorted((a, b) => b.catchmentSquareMeters - a.catchmentSquareMeters)[0]!;
    findings.push(
      finding('caution', 'turns-flow', [id], {
        squareMeters: turned.reduce((all, one) => all + one.catchmentSquareMeters, 0),
        stationMeters: most.stationMeters,
        passesBy: most.passesBy,
      }),
    );
  }
  return findings;
}
