import { badLowHigh, badNumber } from '../debris/check-numbers.ts';
import { withDoubts, type Doubt, type LowHigh } from '../debris/low-high.ts';
import { checkTally } from '../debris/tally-rows.ts';
import type { TallyRow } from '../debris/timber-mass.ts';
import { ok, type Result } from '../result.ts';
import { hourFactors } from './dozer-production.ts';
import { loggedRate, type LoggedWork } from './logged-rate.ts';
import { machineRow, type MachineRow, type OffMachines } from './machine-row.ts';
import { beyondRow, fellingMinutes, isThick, pilingMinutes, treeCount } from './tree-count.ts';

export interface ClearingBlock {
  readonly rows: readonly TallyRow[];
  readonly areaSquareMeters: number;
  /** Stumps come out with the trees. */
  readonly grubbed: boolean;
  /** Brush that vines hold together. */
  readonly entangled: boolean;
}

export interface ClearingChoices {
  readonly powerWatts: number;
  /** Diameter at the ground is 2 cm and so many times that at breast height. */
  readonly swell: LowHigh;
  /** How far the tally may be out, as a share. */
  readonly countErrorShare: number;
}

/** 1.25 is Laasasenaho's; how far it may be out for other trees is ours. */
export const usualSwell: LowHigh = { low: 1.1, likely: 1.25, high: 1.4 };

/** Where the published table does not say; never silently stretched. */
export type OffTable =
  | OffMachines
  | { readonly code: 'all-trees-under-a-foot' }
  | { readonly code: 'trees-left-out'; readonly stems: number };

export interface ClearingHours {
  readonly hours: LowHigh;
  /** `logged` is the user's own; `table` the published one; `scaled` by power from its weakest. */
  readonly basis: 'logged' | 'table' | 'scaled';
  /** Likely hours of each step by the table, whatever the basis; 50 minutes worked of the hour. */
  readonly steps: { readonly felling: number; readonly piling: number };
  readonly offTable: readonly OffTable[];
  readonly doubts: readonly Doubt[];
}

/** Of such a formula, trade notes Q7; ours for a machine that is not in the table. */
const METHOD_SHARE = 0.25;
const SCALED_SHARE = 0.3;

/**
 * Hours of one machine to fell (shearing off or pushing out) and pile what stands on blocks of a
 * clearing, by tree count, `likely` at 50 minutes of the hour, `low` at 60 and `high` at 40, with
 * the doubts of the method, the trees' thickness at the ground, the count and the machine. Trees
 * that were sold are counted too: their stumps are in the way. A machine between two rows of the
 * table lies between their hours; one weaker than its weakest (165 hp) takes longer in proportion;
 * one stronger than its strongest is taken as that. What the user has logged comes first: then the
 * hours are area over logged rate. Pushing far, slopes, wet ground and move-in are not in it.
 * Problems: as `checkTally`, values out of bounds, none or no time in the log.
 * Example: 2.10 ac of 420 small softwoods an acre, 100 hp: 6.1 h (3.5 to 8.9).
 */
export function clearingHours(
  blocks: readonly ClearingBlock[],
  choices: ClearingChoices,
  logged: readonly LoggedWork[] = [],
): Result<ClearingHours> {
  const bad = checkAll(blocks, choices);
  if (bad) return bad;
  const { swell, powerWatts, countErrorShare } = choices;
  const machine = machineRow(powerWatts);
  const atSwell = (value: number) => hoursOf(blocks, machine, value);
  const { felling, piling, leftOut, allSmall } = atSwell(swell.likely);
  const likely = felling + piling;
  const total = (value: number) => {
    const other = atSwell(value);
    return other.felling + other.piling;
  };
  const offTable: OffTable[] = machine.off ? [machine.off] : [];
  if (allSmall) offTable.push({ code: 'all-trees-under-a-foot' });
  if (leftOut > 0) offTable.push({ code: 'trees-left-out', stems: leftOut });
  const steps = { felling, piling };
  if (logged.length > 0) {
    const rate = loggedRate(logged);
    if (!rate.ok) return rate;
    const area = blocks.reduce((sum, block) => sum + block.areaSquareMeters, 0);
    const { low, likely: usual, high } = rate.value;
    const hours = { low: area / high, likely: area / usual, high: area / low };
    return ok({ hours, basis: 'logged', steps, offTable, doubts: [] });
  }
  const around = (about: string, down: number, up: number, reason: string): Doubt => {
    return { about, low: likely * down, high: likely * up, reason };
  };
  const swells = [total(swell.low), likely, total(swell.high)];
  const doubts: Doubt[] = [
    around('method', 1 - METHOD_SHARE, 1 + METHOD_SHARE, 'Counting trees gives hours to within a quarter; common practice, no source.'),
    around('hour', hourFactors.fifty, hourFactors.fifty / hourFactors.forty, 'Of an hour 40 to 60 minutes are worked.'),
    { about: 'thickness', low: Math.min(...swells), high: Math.max(...swells), reason: 'How thick trees are at the ground is taken from breast height.' },
  ]; // prettier-ignore
  if (countErrorShare > 0) {
    doubts.push(around('count', 1 - countErrorShare, 1 + countErrorShare, `The trees were counted to within ${Math.round(countErrorShare * 100)} %.`)); // prettier-ignore
  }
  if (machine.factor !== 1) {
    doubts.push(around('machine', 1 - SCALED_SHARE, 1 + SCALED_SHARE, 'The machine is weaker than any in the published table.')); // prettier-ignore
  }
  const basis = machine.factor === 1 ? 'table' : 'scaled';
  const telling = doubts.filter(({ low, high }) => low < high);
  return ok({ hours: withDoubts(likely, telling), basis, steps, offTable, doubts: telling });
}

function checkAll(blocks: readonly ClearingBlock[], choices: ClearingChoices) {
  const bad =
    badNumber({ 'number of blocks': blocks.length }, 1, Infinity) ??
    badNumber({ 'power of the machine in watts': choices.powerWatts }, 0, 2e6, true) ??
    badLowHigh('swell of the trunks', choices.swell, 1, 3) ??
    badNumber({ 'error of the count': choices.countErrorShare }, 0, 1);
  if (bad) return bad;
  for (const { rows, areaSquareMeters } of blocks) {
    const checked = checkTally(rows);
    if (!checked.ok) return checked;
    const wrong = badNumber({ 'cleared area': areaSquareMeters }, 0, 1e9, true);
    if (wrong) return wrong;
  }
  return null;
}

function hoursOf(
  blocks: readonly ClearingBlock[],
  { felling, piling, factor }: MachineRow,
  swell: number,
) {
  const sum = { felling: 0, piling: 0, leftOut: 0, allSmall: true };
  for (const { rows, areaSquareMeters, grubbed, entangled } of blocks) {
    const count = treeCount(rows, swell);
    const hectares = areaSquareMeters / 10_000;
    const hours = (hectares * factor) / 60 / hourFactors.fifty;
    sum.felling += hours * fellingMinutes(count, felling, grubbed);
    sum.piling += hours * pilingMinutes(count, piling, grubbed, entangled);
    sum.leftOut += hectares * Math.max(beyondRow(count, felling), beyondRow(count, piling));
    sum.allSmall &&= !isThick(count);
  }
  return sum;
}
