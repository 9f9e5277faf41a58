import type { FeatureAnswers } from '../../geo/answers/answers.ts';
import type { PlanFeature } from '../../geo/plan/feature.ts';
import type { Kind } from '../../geo/plan/kinds.ts';
import { featureSize } from './feature-size.ts';
import { kindWords } from './kind-words.ts';

export interface SelectionSum {
  readonly areas: number;
  readonly areaSquareMeters: number;
  readonly lines: number;
  readonly lengthMeters: number;
  /** Some of them are not measured yet, or enclose no clear piece of ground. */
  readonly unmeasured: number;
}

/** Acres and lengths of several features together; ground under two of them counts twice. */
export function sumOf(
  features: readonly PlanFeature[],
  answers: Readonly<Record<string, Partial<FeatureAnswers>>>,
): SelectionSum {
  const sum = { areas: 0, areaSquareMeters: 0, lines: 0, lengthMeters: 0, unmeasured: 0 };
  for (const { id, geometry } of features) {
    const value = featureSize(answers[id])?.value ?? null;
    if (geometry.type === 'Point') continue;
    if (value === null) sum.unmeasured++;
    else if (geometry.type === 'Polygon') {
      sum.areas++;
      sum.areaSquareMeters += value;
    } else {
      sum.lines++;
      sum.lengthMeters += value;
    }
  }
  return sum;
}

/** "2 food plots, 1 stand": most first. */
export function countsLine(features: readonly PlanFeature[]): string {
  const counts = new Map<Kind, number>();
  for (const { kind } of features) counts.set(kind, (counts.get(kind) ?? 0) + 1);
  return [...counts]
    .toSorted((a, b) => b[1] - a[1])
    .map(
      ([kind, count]) => `${count} ${kindWords[kind][count === 1 ? 'one' : 'many'].toLowerCase()}`,
    )
    .join(', ');
}
