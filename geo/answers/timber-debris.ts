import { pilingChoices } from '../debris/debris-choices.ts';
import { debrisVolume } from '../debris/debris-volume.ts';
import { isKind } from '../plan/feature.ts';
import type { Problem } from '../result.ts';
import type { Answer } from './answers.ts';
import { blockDebris } from './block-debris.ts';
import type { TimberDebris } from './debris-answers.ts';
import { debrisSettings } from './debris-settings.ts';
import { scaledVolume, type DebrisScale } from './debris-scale.ts';
import type { FeatureDefinition, Inputs } from './definition.ts';
import type { Finding } from './finding.ts';
import { finding } from './ground-inputs.ts';

/** Topsoil that goes into the piles is worth a word from half an inch on: common practice. */
const MUCH_SOIL = 0.0127;

/** What clearing one timber block leaves: dry mass, solid and loose volume, soil that goes along. */
export const timberDebris: FeatureDefinition = {
  name: 'timberDebris',
  per: 'timber-block',
  reads: [...debrisSettings, 'answer:debrisScale'],
  compute(inputs, feature): { done: Answer<TimberDebris | null> | null } {
    if (!isKind(feature, 'timber-block')) return { done: null };
    const { settings } = inputs;
    const { factor } = inputs.answer('debrisScale') as DebrisScale;
    const debris = blockDebris(feature, settings);
    if (!debris) return { done: null };
    const { areaSquareMeters, mass } = debris;
    if (!mass.ok) return { done: given(null, [tallyFinding(feature.id, mass.problem)], settings) };
    const { kilograms, steps, byGroup, doubts } = mass.value;
    const volume = debrisVolume(kilograms, byGroup, pilingChoices(settings), areaSquareMeters);
    if (!volume.ok) return { done: given(null, [tallyFinding(feature.id, volume.problem)], settings) }; // prettier-ignore
    const stems = feature.properties.tally.map(
      ({ speciesGroup, diameterMeters, stemsPerHectare }) => {
        const count = (stemsPerHectare * areaSquareMeters) / 10_000;
        return { speciesGroup, diameterMeters, count };
      },
    );
    const value = {
      ...scaledVolume(volume.value, factor),
      areaSquareMeters,
      stems,
      kilograms,
      steps,
      doubts,
    };
    return { done: given(value, choiceFindings(feature.id, feature.properties, value), settings) };
  },
};

function given(
  value: TimberDebris | null,
  findings: readonly Finding[],
  settings: Inputs['settings'],
): Answer<TimberDebris | null> {
  return {
    value,
    findings,
    basis: {
      method: [
        'Weighs each tree above ground by its species group and its diameter at breast height, and parts it into bole, bark, branches, foliage and coarse roots.',
        'Takes off what is sold, adds what brittle tops leave behind, and of the roots the share that comes with a pulled stump.',
        'Dry mass over basic density is solid wood; over the packing ratio, and over what soil leaves of the pile, it is loose yards.',
      ],
      source:
        'Jenkins et al. 2003, Forest Science 49(1):12–35 (mass); Wood Handbook FPL-GTR-282 table 5-3 (density); Hardy 1996, PNW-GTR-364 (packing and soil). Share of roots, brittle tops, truck load: common practice, no source.',
      inputs: {
        rootShare: settings.rootShare,
        brittleTops: settings.brittleTops,
        packingRatio: settings.packingRatio,
        pileSoilShare: settings.pileSoilShare,
        truckLoadCubicMeters: settings.truckLoadCubicMeters,
      },
      confidence:
        'Before cutting it may come to two thirds of this or nearly twice; tape the first heap and it gets better.',
    },
  };
}

/** The tally's own problem as a finding: the page says it in its own units. */
function tallyFinding(id: string, { code }: Problem): Finding {
  return finding(code === 'tally-empty' ? 'note' : 'caution', code, [id]);
}

function choiceFindings(
  id: string,
  {
    stumps,
    tops,
    tally,
  }: { stumps: unknown; tops: unknown; tally: readonly { soldShare: number }[] },
  { soilLostMeters }: TimberDebris,
): Finding[] {
  const findings: Finding[] = [];
  if (stumps === null) findings.push(finding('note', 'stumps-not-said', [id]));
  if (tops === null && tally.some(({ soldShare }) => soldShare > 0)) {
    findings.push(finding('note', 'tops-not-said', [id]));
  }
  if (soilLostMeters && soilLostMeters.likely >= MUCH_SOIL) {
    const { likely, high } = soilLostMeters;
    findings.push(
      finding('caution', 'topsoil-into-piles', [id], {
        depthMeters: likely,
        highMeters: high,
      }),
    );
  }
  return findings;
}
