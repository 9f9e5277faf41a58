import type { Answer } from './answers.ts';
import type { SiteDebris } from './debris-answers.ts';
import type { DebrisPlan } from './debris-plan.ts';
import type { DebrisScale } from './debris-scale.ts';
import type { SiteDefinition } from './definition.ts';
import type { Finding } from './finding.ts';
import { finding } from './ground-inputs.ts';

/** Debris of the whole job, and whether what is drawn has room for it. */
export const siteDebris: SiteDefinition = {
  name: 'debris',
  per: 'site',
  reads: ['answer:debrisPlan', 'answer:debrisScale', 'setting:pushReachMeters'],
  compute(inputs): { done: Answer<SiteDebris> | null } {
    const plan = inputs.answer('debrisPlan') as DebrisPlan | null;
    if (!plan) return { done: null };
    const scale = inputs.answer('debrisScale') as DebrisScale;
    const { mass, volume, sinks, blocks, untalliedIds, leftOverCubicMeters } = plan;
    const room = sinks.map(({ feature, cubicMeters }) => {
      return { featureId: feature.id, kind: feature.kind, cubicMeters };
    });
    return {
      done: {
        value: {
          ...volume,
          clearedSquareMeters: plan.clearedSquareMeters,
          blockCount: blocks.length,
          kilograms: mass.kilograms,
          steps: mass.steps,
          untalliedIds,
          remeasured: scale.remeasured,
          room,
          roomCubicMeters: room.reduce((sum, one) => sum + one.cubicMeters, 0),
          leftOverCubicMeters,
        },
        findings: [...scaleFindings(scale), ...findingsOf(plan, inputs.settings.pushReachMeters)],
        basis: {
          method: [
            'Adds up the timber blocks that do not stay standing and whose trees are tallied.',
            'Each block’s debris lies evenly over it; the shortest push goes first, to where a berm or heap within reach has room left.',
            'Heaps that were taped are set against the debris estimated on the ground marked as cleared; the rest of the job follows in proportion.',
            'Low and high add up, as the blocks share their doubts.',
          ],
          source:
            'Jenkins et al. 2003, Forest Science 49(1):12–35; Hardy 1996, PNW-GTR-364. Reach of a push: common practice, no source.',
          inputs: {
            pushReachMeters: inputs.settings.pushReachMeters,
            blocks: blocks.length,
            notTallied: untalliedIds.length,
          },
          confidence:
            'Before cutting it may come to two thirds of this or nearly twice; tape the first heap and it gets better.',
        },
      },
    };
  },
};

function scaleFindings({ remeasured, lacks }: DebrisScale): Finding[] {
  if (lacks === 'cleared-ground') return [finding('note', 'mark-cleared-ground')];
  if (lacks === 'taped-heap') return [finding('note', 'tape-a-heap')];
  if (!remeasured) return [];
  const { reestimate, estimated, clearedShare, heapIds } = remeasured;
  const values = {
    wasCubicMeters: estimated.likely,
    nowCubicMeters: reestimate.cubicMeters.likely,
    ratio: reestimate.ratio,
    clearedShare,
  };
  const doubtful = reestimate.doubts.map((doubt) => finding('caution', doubt, heapIds, values));
  return [...doubtful, finding('note', 'debris-remeasured', heapIds, values)];
}

/** Less than a truck load without a place is nothing to speak of. */
function findingsOf(
  { untalliedIds, leftOverCubicMeters, volume, sinks }: DebrisPlan,
  reach: number,
) {
  const findings: Finding[] = [];
  if (untalliedIds.length > 0) {
    findings.push(finding('note', 'blocks-not-tallied', untalliedIds, { count: untalliedIds.length })); // prettier-ignore
  }
  const all = volume.looseCubicMeters.likely;
  if (leftOverCubicMeters > all / Math.max(1, volume.truckLoads.likely)) {
    findings.push(
      finding(sinks.length === 0 ? 'note' : 'caution', 'debris-without-place', [], {
        cubicMeters: leftOverCubicMeters,
        share: leftOverCubicMeters / all,
        reachMeters: reach,
      }),
    );
  }
  return findings;
}
