import { solidParts } from '../debris/berm-parts.ts';
import { burnClearances, usualClearances, type ClearanceFrom, type ClearanceRule } from '../debris/burn-clearances.ts'; // prettier-ignore
import { burnEmissions, pileQuality } from '../debris/burn-emissions.ts';
import { burnLayout } from '../debris/burn-layout.ts';
import { burnRemnant, drawnVolume } from '../debris/burn-remnant.ts';
import { lineLengthMeters } from '../frame/geodesic.ts';
import { zoneFrame } from '../frame/zone-frame.ts';
import type { Frame } from '../frame/crs-types.ts';
import { frameMetersPerGroundMeter } from '../plan/construct/plan-plane.ts';
import { isKind, type PlanFeature } from '../plan/feature.ts';
import type { Answer } from './answers.ts';
import { burnTargets, fireShape, targetKinds } from './burn-targets.ts';
import type { BurnDistance, Burning } from './debris-answers.ts';
import type { DebrisBlocks } from './debris-blocks.ts';
import type { DebrisScale } from './debris-scale.ts';
import type { FeatureDefinition, Inputs } from './definition.ts';
import type { Finding } from './finding.ts';
import { finding } from './ground-inputs.ts';
import { firstPosition } from './first-position.ts';
import { burns } from './takings.ts';

/** Settings and features that the distances of a fire hang on. */
export const burnReads = [
  ...targetKinds.map((kind) => `features:${kind}` as const),
  'setting:siteCover',
  'setting:burnClearMeters',
] as const;

/** What burning a berm or heap comes near to, gives off and leaves; never whether it may burn. */
export const burning: FeatureDefinition = {
  name: 'burning',
  per: ['berm', 'heap'],
  reads: [
    ...burnReads,
    'answer:debrisBlocks',
    'answer:debrisScale',
    'setting:burnConsumedShare',
    'setting:bermMaxHeightMeters',
    'setting:pileSoilShare',
    'condition:wind',
  ],
  compute(inputs, feature): { done: Answer<Burning> | null } {
    if (!burns(feature)) return { done: null };
    const [lng, lat] = firstPosition(feature);
    const frame = zoneFrame(lng, lat);
    const near = distancesOf(inputs, [feature], frame);
    const remnant = burnRemnant(
      feature,
      inputs.settings.burnConsumedShare,
      inputs.settings.bermMaxHeightMeters,
    );
    if (!near || !remnant) return { done: null };
    const layout = layoutOf(feature);
    const value: Burning = {
      ...near,
      smokeTowardDegrees: smokeToward(inputs),
      emissions: emissionsOf(inputs, feature),
      remnant: { cubicMeters: remnant.cubicMeters, widthMeters: remnant.widthMeters, heightMeters: remnant.heightMeters }, // prettier-ignore
      longestPartMeters: layout?.longestMeters ?? null,
      narrowestBreakMeters: layout?.narrowestMeters ?? null,
    };
    return {
      done: {
        value,
        findings: findingsOf(feature, value, layout),
        basis: {
          method: [
            'Measures from the foot of what is to burn to the nearest building, line, road and trees that are drawn; where the site is woods, trees are taken to stand along the edge of all that is cleared.',
            'Sets the distances beside the usual clearances, which you can edit, and beside printed ones.',
            'Mass by its volume and the packing set for piles; consumption and smoke by the published method for piles.',
          ],
          source:
            'Clearances: common practice, no source; printed: Alberta county fire service (25 m, 60 m, 8 m), Colorado style (50 ft). Smoke: Hardy 1996, PNW-GTR-364, and EPA AP-42 2.5, factors from memory.',
          inputs: {
            burnConsumedShare: inputs.settings.burnConsumedShare,
            pileSoilShare: inputs.settings.pileSoilShare,
          },
          confidence:
            'Distances are as good as what is drawn. None of them says that burning is allowed or safe: the permit, the fire department and the day decide.',
        },
      },
    };
  },
};

/** Distances of fires to what is drawn against the usual and the printed clearances. */
export function distancesOf(
  inputs: Inputs,
  features: readonly PlanFeature[],
  frame: Frame,
): Pick<Burning, 'distances' | 'notDrawn'> | null {
  const fires = features.flatMap((feature) => fireShape(feature, frame) ?? []);
  const at = fires[0]?.shape.paths[0]?.[0];
  if (!at) return null;
  const groundMeters = 1 / frameMetersPerGroundMeter(frame, at);
  const made = burnClearances(fires, burnTargets(inputs, frame), rulesOf(inputs), groundMeters);
  if (!made.ok) return null;
  const distances = made.value.clearances.map(({ id, from, targetId, between, rules }): BurnDistance => ({
    fireId: id,
    from,
    targetId,
    meters: between.meters,
    line: [between.from, between.to].map(([x, y]) => frame.toLngLat(x, y)) as [[number, number], [number, number]],
    rules: rules.map(({ meters, source, shortMeters }) => ({ meters, source, shortMeters })),
  })); // prettier-ignore
  return { distances, notDrawn: made.value.notDrawn };
}

/** The user's own in the place of the usual ones; the printed ones beside them. */
function rulesOf({ settings }: Inputs): ClearanceRule[] {
  const own = Object.entries(settings.burnClearMeters).map(([from, meters]): ClearanceRule => {
    return { from: from as ClearanceFrom, meters, source: 'usual' };
  });
  return [...own, ...usualClearances.filter(({ source }) => source === 'published')];
}

function smokeToward({ conditions: { wind } }: Inputs): number | null {
  return wind.fromDegrees === null ? null : (wind.fromDegrees + 180) % 360;
}

function emissionsOf(inputs: Inputs, feature: PlanFeature<'berm' | 'heap'>): Burning['emissions'] {
  const blocks = inputs.answer('debrisBlocks') as DebrisBlocks | null;
  const volume = drawnVolume(feature);
  // A pile's wood is reckoned from its volume by the published method, whatever tapes said of the job.
  const { factor } = inputs.answer('debrisScale') as DebrisScale;
  const whole = (blocks?.volume.looseCubicMeters.likely ?? 0) / factor.likely;
  if (!blocks || volume === null || !(whole > 0)) return null;
  const share = Math.min(1, volume / whole);
  const { low, likely, high } = blocks.mass.kilograms;
  const mass = { low: low * share, likely: likely * share, high: high * share };
  const burnt = inputs.settings.burnConsumedShare;
  const consumption = { low: Math.max(0, burnt - 0.1), likely: burnt, high: Math.min(1, burnt + 0.1) }; // prettier-ignore
  const quality = pileQuality(inputs.settings.pileSoilShare);
  const made = burnEmissions(mass, blocks.mass.byGroup, quality, consumption);
  if (!made.ok) return null;
  const { consumedKilograms, pm25, co } = made.value;
  return { consumedKilograms, pm25Kilograms: pm25, coKilograms: co };
}

interface Layout {
  readonly longestMeters: number;
  readonly narrowestMeters: number | null;
  readonly overMeters: number;
  readonly shortMeters: number;
}

function layoutOf(feature: PlanFeature): Layout | null {
  if (!isKind(feature, 'berm') || feature.geometry.type !== 'LineString') return null;
  const length = lineLengthMeters(feature.geometry.coordinates);
  const parts = solidParts(length, feature.properties.gaps);
  const layout = burnLayout(parts, feature.properties.baseWidthMeters);
  if (!layout.ok || parts.length === 0) return null;
  const breaks = parts.slice(1).map(([from], i) => from - parts[i]![1]);
  return {
    longestMeters: Math.max(...parts.map(([from, to]) => to - from)),
    narrowestMeters: breaks.length > 0 ? Math.min(...breaks) : null,
    overMeters: Math.max(0, ...layout.value.tooLong.map(({ overMeters }) => overMeters)),
    shortMeters: Math.max(0, ...layout.value.tooNarrow.map(({ shortMeters }) => shortMeters)),
  };
}

/** Short by less than a foot is within the line's own width. */
const LEAST_SHORT = 0.3;

function findingsOf({ id }: PlanFeature, value: Burning, layout: Layout | null): Finding[] {
  const findings = value.distances.flatMap(({ from, targetId, meters, rules }) => {
    const usual = rules.find(({ source }) => source === 'usual');
    if (!usual || usual.shortMeters < LEAST_SHORT) return [];
    const values = { from, distanceMeters: meters, shortMeters: usual.shortMeters, wantedMeters: usual.meters }; // prettier-ignore
    return [finding('caution', 'burn-too-near', [id, targetId], values)];
  });
  findings.push(finding('note', 'ask-before-burning', [id]));
  if (value.notDrawn.length > 0) {
    findings.push(finding('note', 'burn-not-drawn', [id], { what: value.notDrawn.join(', ') }));
  }
  if (layout && (layout.overMeters > LEAST_SHORT || layout.shortMeters > LEAST_SHORT)) {
    findings.push(
      finding('note', 'burn-layout', [id], {
        longestMeters: layout.longestMeters,
        narrowestMeters: layout.narrowestMeters,
      }),
    );
  }
  return findings;
}
