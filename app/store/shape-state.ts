import type { PlanFeature } from '../../geo/plan/feature.ts';
import type { GeometryType } from '../../geo/plan/kinds.ts';
import type { Problem } from '../../geo/result.ts';

/** What the page holds while shapes are made of shapes; none of it is kept. */

/** A shape that is drawn for something else and is no feature itself, such as a cutting line. */
export interface HelperDrawing {
  readonly type: GeometryType;
  readonly title: string;
  /** What to tap, in one sentence. */
  readonly how: string;
}

export interface TrialSize {
  readonly areaSquareMeters: number | null;
  readonly lengthMeters: number | null;
  readonly corners: number;
}

/** A change of the plan as it would be: shown on the map, made when it is kept. */
export interface Trial {
  /** What it would put into the plan, and what it would take out (null). */
  readonly features: Readonly<Record<string, PlanFeature | null>>;
  readonly sizes: Readonly<Record<string, TrialSize>>;
  /** What it was made of, as that was: once one of them is another, it does not hold. */
  readonly of: Readonly<Record<string, PlanFeature>>;
  readonly selectAfter: string | null;
  /** Why it cannot be made; then it holds no features. */
  readonly problem: Problem | null;
}
