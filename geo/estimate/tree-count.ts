import { isSoftwood, type TallyRow } from '../debris/timber-mass.ts';

/**
 * Clearing by tree count. Source: maker's performance handbook, land clearing, and Peurifoy et al.,
 * Construction Planning, Equipment, and Methods (handbook §4.2). Published in feet and minutes an
 * acre; here metres and minutes a hectare, one machine, 60 minutes worked of the hour.
 */

const FOOT = 0.3048;
const WATTS = 745.7;
/** Acres in a hectare. */
const ACRES = 10_000 / 4046.8564224;

/** Trees on a hectare by their diameter at the ground. */
export interface TreeCount {
  /** Under 1 ft, which are not counted one by one. */
  readonly smallPerHectare: number;
  /** 1 to 2, 2 to 3, 3 to 4 and 4 to 6 ft. */
  readonly perHectare: readonly [number, number, number, number];
  /** Diameters of those over 6 ft, added up, metres on a hectare. */
  readonly overSixFeetMeters: number;
  /** Hardwoods among all of them. */
  readonly hardwoodShare: number;
}

/** What a machine takes, minutes; null where the table has no figure for trees so thick. */
export interface CountRow {
  readonly minutesPerHectare: number;
  readonly minutesPerTree: readonly [number, number, number | null, number | null];
  readonly minutesPerMeter: number | null;
}

/** A class of machines in the published table, by the power of its engine. */
export interface MachineClass {
  readonly powerWatts: number;
  readonly felling: CountRow;
  readonly piling: CountRow;
}

type Figures = readonly [b: number, m1: number, m2: number, m3: number, m4: number | null, f: number | null]; // prettier-ignore

function row([b, m1, m2, m3, m4, f]: Figures): CountRow {
  return {
    minutesPerHectare: b * ACRES,
    minutesPerTree: [m1, m2, m3, m4],
    minutesPerMeter: f === null ? null : f / FOOT,
  };
}

function machine(horsepower: number, felling: Figures, piling: Figures): MachineClass {
  return { powerWatts: horsepower * WATTS, felling: row(felling), piling: row(piling) };
}

/** The published table, from memory but for the piling of the second row; weakest first. */
export const machineClasses: readonly MachineClass[] = [
  machine(165, [34.41, 0.7, 3.4, 6.8, null, null], [63.56, 0.5, 1.0, 4.2, null, null]),
  machine(215, [23.48, 0.5, 1.7, 3.6, 10.2, 3.3], [50.61, 0.4, 0.7, 2.5, 5.0, null]),
  machine(335, [18.22, 0.2, 1.3, 2.2, 6.0, 1.8], [44.94, 0.1, 0.5, 1.8, 3.6, 0.9]),
  machine(460, [15.79, 0.1, 0.4, 1.3, 3.0, 1.0], [39.27, 0.08, 0.1, 1.2, 2.1, 0.3]),
];

/** Grubbed trees over a foot add a quarter to the total, felling and piling alike. */
const GRUBBED = 1.25;
/** Brush that vines hold together is piled in so much of the base time. */
const ENTANGLED = 0.7;

/**
 * Diameter at the ground of a tree by its diameter at breast height, metres: 2 cm + 1.25 dbh
 * (Laasasenaho 1975, Folia Forestalia 233, pine and spruce; seen in a public repository).
 * @param swell in the place of 1.25
 */
export function groundDiameter(diameterMeters: number, swell = 1.25): number {
  return 0.02 + swell * diameterMeters;
}

/**
 * Trees of a tally by their classes at the ground.
 * Example: 272 oaks of 0.28 m on a hectare are 0.37 m thick there: 1 to 2 ft.
 */
export function treeCount(rows: readonly TallyRow[], swell = 1.25): TreeCount {
  const perHectare: [number, number, number, number] = [0, 0, 0, 0];
  let [small, over, all, hardwood] = [0, 0, 0, 0];
  for (const { speciesGroup, diameterMeters, stemsPerHectare } of rows) {
    const meters = groundDiameter(diameterMeters, swell);
    const feet = meters / FOOT;
    all += stemsPerHectare;
    if (!isSoftwood(speciesGroup)) hardwood += stemsPerHectare;
    if (feet < 1) small += stemsPerHectare;
    else if (feet > 6) over += stemsPerHectare * meters;
    else perHectare[feet < 2 ? 0 : feet < 3 ? 1 : feet < 4 ? 2 : 3] += stemsPerHectare;
  }
  const hardwoodShare = all > 0 ? hardwood / all : 0;
  return { smallPerHectare: small, perHectare, overSixFeetMeters: over, hardwoodShare };
}

/**
 * Minutes a hectare to fell with a shearing blade: X (A B + M N + D F). A is 2 from 600 trees
 * under 1 ft an acre, 1 from 400, else 0.7; X is 1.3 where three quarters are hardwoods, 0.7 where
 * under a quarter are. Trees that the row has no figure for are left out (`beyondRow`).
 * Example: 215 hp, 700 small trees an acre and 100, 10, 2, a fifth hardwood, grubbed: 106 min/ac.
 */
export function fellingMinutes(count: TreeCount, figures: CountRow, grubbed: boolean): number {
  const perAcre = count.smallPerHectare / ACRES;
  const density = perAcre >= 600 ? 2 : perAcre >= 400 ? 1 : 0.7;
  const hardness = count.hardwoodShare >= 0.75 ? 1.3 : count.hardwoodShare >= 0.25 ? 1 : 0.7;
  const minutes = density * figures.minutesPerHectare + byTree(count, figures);
  return hardness * minutes * grub(count, grubbed);
}

/**
 * Minutes a hectare to pile or windrow: B + M N + D F.
 * Example: 125 min/ha and 0.4, 0.6, 2.5, 5.0 a tree with 35, 6, 6, 2 trees: 167.6 min/ha (the
 * handbook prints 177.6, which its own terms do not make up).
 */
export function pilingMinutes(
  count: TreeCount,
  figures: CountRow,
  grubbed: boolean,
  entangled = false,
): number {
  const base = figures.minutesPerHectare * (entangled ? ENTANGLED : 1);
  return (base + byTree(count, figures)) * grub(count, grubbed);
}

/** Trees on a hectare that a row has no figure for; those over 6 ft count as one each 6 ft. */
export function beyondRow(count: TreeCount, figures: CountRow): number {
  const thick = figures.minutesPerMeter === null ? count.overSixFeetMeters / (6 * FOOT) : 0;
  return figures.minutesPerTree.reduce<number>(
    (sum, minutes, i) => sum + (minutes === null ? count.perHectare[i]! : 0),
    thick,
  );
}

function byTree(count: TreeCount, { minutesPerTree, minutesPerMeter }: CountRow): number {
  return minutesPerTree.reduce<number>(
    (sum, minutes, i) => sum + (minutes ?? 0) * count.perHectare[i]!,
    (minutesPerMeter ?? 0) * count.overSixFeetMeters,
  );
}

function grub(count: TreeCount, grubbed: boolean): number {
  return grubbed && isThick(count) ? GRUBBED : 1;
}

/** Whether any tree is a foot and more at the ground. */
export function isThick({ perHectare, overSixFeetMeters }: TreeCount): boolean {
  return overSixFeetMeters > 0 || perHectare.some((trees) => trees > 0);
}
