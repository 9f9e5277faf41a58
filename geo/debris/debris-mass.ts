import { ok, type Result } from '../result.ts';
import type { PropertiesOf } from '../plan/kinds.ts';
import { badLowHigh, badNumber } from './check-numbers.ts';
import { withDoubts, type Doubt, type LowHigh } from './low-high.ts';
import { checkTally } from './tally-rows.ts';
import { treeMassKilograms, treeParts, type SpeciesGroup, type TallyRow } from './timber-mass.ts';

export interface DebrisChoices {
  readonly stumps: PropertiesOf<'timber-block'>['stumps'];
  readonly tops: PropertiesOf<'timber-block'>['tops'];
  /** Share of the coarse roots that comes with a pulled stump. */
  readonly rootShare: LowHigh;
  /** What lies about of the tops of sold trees, over what the tables give them; 1 and more. */
  readonly brittleTops: LowHigh;
  /** How far the tally may be out, as a share; 0 takes it as it is. */
  readonly countErrorShare: number;
}

/** All common practice, no source; 0.7 is the trade notes' (§6.6). */
export const usualChoices: DebrisChoices = {
  stumps: null,
  tops: null,
  rootShare: { low: 0.5, likely: 0.7, high: 0.9 },
  brittleTops: { low: 1, likely: 1, high: 1.3 },
  countErrorShare: 0,
};

/** Steps of the sum, kilograms dry: debris = standing − sold + broken + roots. */
export interface DebrisSteps {
  /** Above ground, before anything is cut. */
  readonly standing: number;
  /** Leaves with the timber sale, tops too where they are hauled. */
  readonly sold: number;
  /** Broken off boles that were sold, and left behind. */
  readonly broken: number;
  readonly roots: number;
}

export interface DebrisMass {
  readonly kilograms: LowHigh;
  readonly steps: DebrisSteps;
  /** Likely debris of each species group, kilograms. */
  readonly byGroup: ReadonlyMap<SpeciesGroup, number>;
  readonly doubts: readonly Doubt[];
}

/**
 * Oven-dry mass of what a cleared block leaves lying, of its tally and its ground in square metres.
 * The share sold is a share of the above-ground mass and is wood and bark of the bole; with tops
 * hauled the tops of the same trees go too. Roots come by the published ratio (handbook §3) times
 * the share that a pulled stump brings; stumps left or ground leave them in the ground. What is not
 * said (null) is likely pulled and kept, and widens the range. Problems as `checkTally`, and for
 * values out of bounds.
 * Example: 2.10 ac with 300 cedars of 6 in and 120 pines of 8 in an acre, pulled: 79.9 t.
 */
export function debrisMass(
  rows: readonly TallyRow[],
  areaSquareMeters: number,
  choices: DebrisChoices,
): Result<DebrisMass> {
  const checked = checkTally(rows);
  if (!checked.ok) return checked;
  const bad =
    badNumber({ 'cleared area': areaSquareMeters }, 0, 1e9, true) ??
    badLowHigh('share of roots', choices.rootShare, 0, 1) ??
    badLowHigh('brittle-tops factor', choices.brittleTops, 1, 10) ??
    badNumber({ 'error of the count': choices.countErrorShare }, 0, 1);
  if (bad) return bad;
  const hectares = areaSquareMeters / 10_000;
  const likely = likelyCase(choices);
  const steps = stepsOf(rows, hectares, likely);
  const byGroup = new Map<SpeciesGroup, number>();
  for (const row of rows) {
    const mass = total(stepsOf([row], hectares, likely));
    byGroup.set(row.speciesGroup, (byGroup.get(row.speciesGroup) ?? 0) + mass);
  }
  const doubts = doubtsOf(choices, total(steps), (change) =>
    total(stepsOf(rows, hectares, { ...likely, ...change })),
  );
  return ok({ kilograms: withDoubts(total(steps), doubts), steps, byGroup, doubts });
}

/**
 * Several blocks together. Low and high add up, as the blocks share their doubts.
 * Example: the demo's four blocks leave 164 t.
 */
export function addDebris(blocks: readonly DebrisMass[]): DebrisMass {
  const sum = (pick: (block: DebrisMass) => number) =>
    blocks.reduce((before, block) => before + pick(block), 0);
  const byGroup = new Map<SpeciesGroup, number>();
  for (const block of blocks) {
    for (const [group, mass] of block.byGroup) byGroup.set(group, (byGroup.get(group) ?? 0) + mass);
  }
  return {
    kilograms: {
      low: sum(({ kilograms }) => kilograms.low),
      likely: sum(({ kilograms }) => kilograms.likely),
      high: sum(({ kilograms }) => kilograms.high),
    },
    steps: {
      standing: sum(({ steps }) => steps.standing),
      sold: sum(({ steps }) => steps.sold),
      broken: sum(({ steps }) => steps.broken),
      roots: sum(({ steps }) => steps.roots),
    },
    byGroup,
    doubts: blocks.flatMap(({ doubts }) => doubts),
  };
}

interface Case {
  readonly tops: 'kept' | 'hauled';
  readonly rootShare: number;
  readonly brittleTops: number;
}

function likelyCase({ stumps, tops, rootShare, brittleTops }: DebrisChoices): Case {
  return {
    tops: tops ?? 'kept',
    rootShare: (stumps ?? 'pulled') === 'pulled' ? rootShare.likely : 0,
    brittleTops: brittleTops.likely,
  };
}

function stepsOf(rows: readonly TallyRow[], hectares: number, given: Case): DebrisSteps {
  const sum = { standing: 0, sold: 0, broken: 0, roots: 0 };
  for (const { speciesGroup, diameterMeters, stemsPerHectare, soldShare } of rows) {
    const mass = treeMassKilograms(speciesGroup, diameterMeters) * stemsPerHectare * hectares;
    const parts = treeParts(speciesGroup, diameterMeters);
    const bole = parts.wood + parts.bark;
    const boleSold = Math.min(soldShare, bole);
    const treesSold = boleSold / bole;
    const topsOfSold = treesSold * (1 - bole);
    const broken = Math.min(boleSold, topsOfSold * (given.brittleTops - 1));
    sum.standing += mass;
    sum.sold += mass * (given.tops === 'hauled' ? treesSold : boleSold);
    sum.broken += given.tops === 'hauled' ? 0 : mass * broken;
    sum.roots += mass * parts.roots * given.rootShare;
  }
  return sum;
}

function total({ standing, sold, broken, roots }: DebrisSteps): number {
  return standing - sold + broken + roots;
}

function doubtsOf(
  choices: DebrisChoices,
  likely: number,
  withChange: (change: Partial<Case>) => number,
): Doubt[] {
  const { rootShare, brittleTops, countErrorShare, stumps, tops } = choices;
  const doubts: Doubt[] = [];
  if (stumps === 'pulled' || stumps === null) {
    doubts.push({
      about: 'roots',
      low: withChange({ rootShare: stumps ? rootShare.low : 0 }),
      high: withChange({ rootShare: rootShare.high }),
      reason: stumps
        ? 'How much of the roots comes with the stump is common practice, no source.'
        : 'Nobody has said whether stumps are pulled, and how much root comes along is common practice.',
    });
  }
  const sells = withChange({ tops: 'hauled' }) !== withChange({ tops: 'kept' });
  if (sells && tops !== 'hauled') {
    doubts.push({
      about: 'tops',
      low: withChange(tops ? { brittleTops: brittleTops.low } : { tops: 'hauled' }),
      high: withChange({ brittleTops: brittleTops.high }),
      reason: tops
        ? 'Brittle tops shatter when felled and take some of the bole with them; common practice, no source.'
        : 'Nobody has said whether the tops of the sold trees are hauled.',
    });
  }
  if (countErrorShare > 0) {
    doubts.push({
      about: 'count',
      low: likely * (1 - countErrorShare),
      high: likely * (1 + countErrorShare),
      reason: `The trees were counted to within ${Math.round(countErrorShare * 100)} %.`,
    });
  }
  return doubts;
}
