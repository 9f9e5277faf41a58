import type { PlanFeature, Position } from '../../geo/plan/feature.ts';
import { findOutlineFault } from '../../geo/plan/outline-faults.ts';
import type { Problem } from '../../geo/result.ts';
import type { Notice } from '../store/session.ts';
import {
  areaQuantity,
  coordinate,
  figure,
  lengthQuantity,
  spoken,
  type UnitSystem,
} from './format.ts';

/** What is wrong with a drawn outline, and where on the ground. */
export interface OutlineTrouble {
  readonly problem: Problem;
  readonly at: Position;
}

/** Null where the outline is sound, or it is none. */
export function outlineTrouble(feature: PlanFeature): OutlineTrouble | null {
  if (feature.geometry.type !== 'Polygon') return null;
  const fault = findOutlineFault(feature.geometry.coordinates);
  if (!fault) return null;
  const { at } = fault;
  const place = coordinate(at[0], at[1]);
  const crossing = { code: 'outline-crosses-itself', where: feature.id };
  switch (fault.fault) {
    case 'no-area':
      return {
        at,
        problem: {
          code: 'outline-no-area',
          what: `The outline of ${feature.name} encloses no ground: its corners lie on one line.`,
          wayOut: 'Drag a corner off the line, or delete it.',
          where: feature.id,
        },
      };
    case 'hole-outside':
      return {
        at,
        problem: {
          ...crossing,
          what: `A hole of ${feature.name} lies outside its outline, at ${place}, so its acres are not clear.`,
          wayOut: 'Mend it: what lies outside becomes an outline of its own. Or undo.',
        },
      };
    case 'crosses-itself':
      return {
        at,
        problem: {
          ...crossing,
          what: `The outline of ${feature.name} crosses itself at ${place}, so its acres are not clear.`,
          wayOut:
            'Mend it into one outline for each piece of ground it goes round, or drag a corner.',
        },
      };
  }
}

/** The same for what is said over the map. */
export function outlineProblem(feature: PlanFeature): Problem | null {
  return outlineTrouble(feature)?.problem ?? null;
}

export function nothingToMend({ id, name }: PlanFeature): Problem {
  return {
    code: 'outline-no-area',
    what: `The outline of ${name} encloses no ground, so there is nothing to mend.`,
    wayOut: 'Drag its corners apart, or delete it.',
    where: id,
  };
}

/** What a mended outline lost: pieces too narrow to be ground of their own. */
export function sliverNotice(
  name: string,
  mended: {
    readonly slivers: number;
    readonly sliverSquareMeters: number;
    readonly leastWidthMeters: number;
  },
  units: UnitSystem,
): Notice {
  const one = mended.slivers === 1;
  const width = spoken(lengthQuantity(mended.leastWidthMeters, units));
  const size = spoken(areaQuantity(mended.sliverSquareMeters, units));
  return {
    what: `The outline of ${name} was mended.`,
    lines: [
      `${figure(mended.slivers, 0)} ${one ? 'sliver' : 'slivers'} along the crossings, ${size} in all, ${one ? 'was' : 'were'} made no part of their own: narrower than ${width}, the best that a walked or drawn edge is good to.`,
    ],
  };
}
