import type { Stage } from '../water/stage-storage.ts';
import type { LngLatPolygon } from './answers.ts';

/** Where water runs together. */
export interface FlowLineShape {
  /** Downhill. */
  readonly line: readonly (readonly [number, number])[];
  /** What drains through each point of the line. */
  readonly catchmentSquareMeters: readonly number[];
  /** Place in the list of the line that this one runs into; null where its water ends. */
  readonly into: number | null;
}

export interface FlowLines {
  readonly lines: readonly FlowLineShape[];
  readonly thresholdSquareMeters: number;
}

/** A listed low spot, looked at by itself. */
export interface SpotDetail {
  readonly id: string;
  /** By D-infinity, itself included. */
  readonly catchmentSquareMeters: number;
  /** The ground of that catchment. */
  readonly catchment: readonly LngLatPolygon[];
  /** Where it runs over when it is brim full. */
  readonly spillsAt: readonly [number, number];
  /** The listed low spot that it runs over into; null where its water leaves the site. */
  readonly spillsInto: string | null;
  /** Empty to brim full. */
  readonly stages: readonly Stage[];
}

export interface SpotDetails {
  readonly spots: readonly SpotDetail[];
}
