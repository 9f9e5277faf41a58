import type { FeatureAnswers } from '../../../geo/answers/answers.ts';
import type { PlanFeature } from '../../../geo/plan/feature.ts';
import { featureSize, type FeatureSize } from '../../words/feature-size.ts';
import { keyProperties } from '../../words/key-properties.ts';
import { kindWords } from '../../words/kind-words.ts';
import { choiceWords } from '../../words/property-words.ts';

export type SortBy = 'name' | 'kind' | 'size';

export interface TableOrder {
  readonly by: SortBy;
  readonly falling: boolean;
}

export interface TableRow {
  readonly feature: PlanFeature;
  readonly size: FeatureSize | null;
}

const letters = new Intl.Collator('en', { numeric: true, sensitivity: 'base' });
/** Acres, feet along and feet above the sea are not compared with each other. */
const measures = ['area', 'length', 'elevation'] as const;

/**
 * The rows of the table: features whose name, kind or written properties hold every word of the
 * filter, in order. Equal ones stay in the order of their names, then of their ids; what has no
 * size comes last either way.
 */
export function tableRows(
  features: Readonly<Record<string, PlanFeature>>,
  answers: Readonly<Record<string, Partial<FeatureAnswers>>>,
  filter: string,
  order: TableOrder,
): TableRow[] {
  const words = filter.toLowerCase().split(/\s+/).filter(Boolean);
  const rows = Object.values(features)
    .filter((feature) => words.length === 0 || holdsAll(feature, words))
    .map((feature) => ({ feature, size: featureSize(answers[feature.id]) }));
  const turn = order.falling ? -1 : 1;
  return rows.sort(
    (a, b) =>
      comparing[order.by](a, b, turn) ||
      letters.compare(a.feature.name, b.feature.name) ||
      (a.feature.id < b.feature.id ? -1 : 1),
  );
}

const comparing: Readonly<Record<SortBy, (a: TableRow, b: TableRow, turn: 1 | -1) => number>> = {
  name: (a, b, turn) => turn * letters.compare(a.feature.name, b.feature.name),
  kind: (a, b, turn) =>
    turn * letters.compare(kindWords[a.feature.kind].one, kindWords[b.feature.kind].one),
  size: (a, b, turn) => {
    const [valueA, valueB] = [a.size?.value ?? null, b.size?.value ?? null];
    if (valueA === null || valueB === null) {
      return Number(valueA === null) - Number(valueB === null);
    }
    const sorts = measures.indexOf(a.size!.measure) - measures.indexOf(b.size!.measure);
    return sorts || turn * (valueA - valueB);
  },
};

function holdsAll({ name, kind, properties }: PlanFeature, words: readonly string[]): boolean {
  const written = Object.values(properties)
    .filter((value) => typeof value === 'string')
    .map((value) => `${value} ${choiceWords(value)}`);
  const text = [name, kindWords[kind].one, kindWords[kind].many, ...written]
    .join(' ')
    .toLowerCase();
  return words.every((word) => text.includes(word));
}

/** Tops of rows of uneven height, pixels, and one more for the end of the last. */
export function rowTops(rows: readonly TableRow[], height: RowHeight): Float64Array {
  const tops = new Float64Array(rows.length + 1);
  rows.forEach(({ feature }, i) => {
    tops[i + 1] = tops[i]! + height.base + height.perProperty * keyProperties[feature.kind].length;
  });
  return tops;
}

export interface RowHeight {
  readonly base: number;
  readonly perProperty: number;
}

/** First row and the one after the last that show between two heights, with a few around. */
export function rowsBetween(
  tops: Float64Array,
  from: number,
  to: number,
  around: number,
): [number, number] {
  const count = tops.length - 1;
  const first = Math.max(0, rowAt(tops, from) - around);
  return [first, Math.min(count, rowAt(tops, to) + 1 + around)];
}

/** The row that covers a height; the last one below all. */
function rowAt(tops: Float64Array, y: number): number {
  let low = 0;
  let high = tops.length - 2;
  while (low < high) {
    const middle = (low + high + 1) >> 1;
    if (tops[middle]! <= y) low = middle;
    else high = middle - 1;
  }
  return Math.max(0, low);
}
