import type { LngLatPolygon } from './answers.ts';

/** What a berm, heap or road does to the water, brim full. */

export interface DamPond {
  readonly areaSquareMeters: number;
  /** Over what would stand there without it. */
  readonly volumeCubicMeters: number;
  readonly maxDepthMeters: number;
  /** From brim full, if no more rain falls; null where nothing takes it away. */
  readonly hoursToDry: number | null;
  readonly deepestAt: readonly [number, number];
  readonly outline: readonly LngLatPolygon[];
}

/** Water that came down to it and has to go somewhere else now. */
export interface TurnedFlow {
  /** Along the berm or road, ground metres. */
  readonly stationMeters: number;
  readonly at: readonly [number, number];
  /** Ground that drained through there before. */
  readonly catchmentSquareMeters: number;
  /** Where it gets past now, and how. */
  readonly passesAt: readonly [number, number];
  /** The way from where it came to where it gets past, and a little on. */
  readonly line: readonly (readonly [number, number])[];
  readonly passesBy: 'an-end' | 'a-gap' | 'its-top';
  /** From where it came to where it gets past now, as the crow flies. */
  readonly movedMeters: number;
}

export interface LettingGap {
  /** Middle of the gap along the berm, ground metres. */
  readonly stationMeters: number;
  readonly widthMeters: number;
  readonly at: readonly [number, number];
}

export interface Damming {
  /** Deep and large enough to be listed; by volume, largest first. */
  readonly ponds: readonly DamPond[];
  readonly areaSquareMeters: number;
  readonly volumeCubicMeters: number;
  readonly maxDepthMeters: number;
  /** Of the pond that stands longest; 0 without one, null where one stays. */
  readonly hoursToDry: number | null;
  /** Null until what drains where is known. */
  readonly turned: readonly TurnedFlow[] | null;
}

/** Gaps to be added to a berm, which together let through what it dams and turns aside. */
export interface LettingGaps {
  /** In the order of the line; none where nothing is held back. */
  readonly gaps: readonly LettingGap[];
  /** What would still stand because of the berm with those gaps. */
  readonly leftAreaSquareMeters: number;
  readonly leftVolumeCubicMeters: number;
  readonly leftMaxDepthMeters: number;
  /** At most a tenth is left of what it would dam without any gap. */
  readonly isThrough: boolean;
}
