import { drawnVolume } from '../debris/burn-remnant.ts';
import { settledHeights } from '../debris/settlement.ts';
import { isKind, type PlanFeature } from '../plan/feature.ts';
import type { PropertiesOf } from '../plan/kinds.ts';
import type { Answer } from './answers.ts';
import { shapeFindings } from './berm-holds.ts';
import type { HeapHolds } from './debris-answers.ts';
import type { DebrisPlan } from './debris-plan.ts';
import type { FeatureDefinition } from './definition.ts';
import type { Finding } from './finding.ts';
import { finding } from './ground-inputs.ts';

type Heap = PropertiesOf<'heap'>;

/** A heap that gets less than so much of what it holds is drawn too large. */
const FILLED = 0.9;

/** What a brush pile holds by its shape, what of the debris comes to it, and how far it settles. */
export const heapHolds: FeatureDefinition = {
  name: 'heapHolds',
  per: 'heap',
  reads: ['answer:debrisPlan', 'setting:bermMaxHeightMeters'],
  compute(inputs, feature): { done: Answer<HeapHolds> | null } {
    if (!isKind(feature, 'heap')) return { done: null };
    const plan = inputs.answer('debrisPlan') as DebrisPlan | null;
    const at = plan?.sinks.findIndex((sink) => sink.feature.id === feature.id) ?? -1;
    const { heightMeters } = feature.properties;
    const holdsCubicMeters = at >= 0 ? plan!.sinks[at]!.cubicMeters : drawnVolume(feature);
    const { taped } = feature.properties;
    const isAsked = plan !== null && holdsCubicMeters !== null && !taped;
    const value: HeapHolds = {
      holdsCubicMeters,
      comesCubicMeters: isAsked ? (plan.placed[at] ?? 0) : null,
      settledMeters: heightMeters ? settledHeights(heightMeters) : [],
    };
    const most = inputs.settings.bermMaxHeightMeters;
    return {
      done: {
        value,
        findings: findingsOf(feature, value, most),
        basis: {
          method: [
            'Its volume by the closed form of its shape; of one drawn as an outline with only a height, sides rising 1 to 1 from the edge.',
            taped
              ? 'It stands already: its debris is there, and no more is sent to it.'
              : 'What comes to it is the debris whose shortest push ends here, until it is full.',
          ],
          source:
            'Pile shapes: Hardy 1996, PNW-GTR-364. Settling 20 to 40 % in three years: common practice, no source.',
          inputs: { bermMaxHeightMeters: most },
          confidence: taped
            ? 'A heap is not as smooth as its shape: a tape tells its volume to within a third.'
            : 'A heap is not as smooth as its shape: a tape tells its volume to within a third. What comes to it is as good as the debris.',
        },
      },
    };
  },
};

/** Metres out for a metre up on its short sides; null for one that is known by its outline. */
function sideRunOf({ shape, widthMeters, lengthMeters, heightMeters }: Heap): number | null {
  if (shape === 'half-sphere' || !widthMeters || !heightMeters) return null;
  return Math.min(widthMeters, lengthMeters || widthMeters) / 2 / heightMeters;
}

function findingsOf(
  feature: PlanFeature<'heap'>,
  { holdsCubicMeters: holds, comesCubicMeters: comes }: HeapHolds,
  mostMeters: number,
): Finding[] {
  const { id, properties } = feature;
  // One that stands may be measured in a surface instead.
  if (holds === null) return properties.taped ? [] : [finding('caution', 'size-not-said', [id])]; // prettier-ignore
  const findings = shapeFindings(feature, sideRunOf(properties), mostMeters);
  if (comes === null) return findings;
  const values = { holdsCubicMeters: holds, comesCubicMeters: comes };
  if (comes === 0) findings.push(finding('note', 'heap-out-of-reach', [id]));
  else if (comes < holds * FILLED) findings.push(finding('note', 'heap-not-filled', [id], values));
  return findings;
}
