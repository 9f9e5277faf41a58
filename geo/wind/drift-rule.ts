import { usualLightAir, type LightAir } from './direction-spread.ts';

/** Every number that the drift of scent and the verdict on it go by: all editable. */
export interface DriftRule {
  /** How far scent is followed. */
  readonly rangeMeters: number;
  /** The half-angle is never less. */
  readonly leastHalfAngleDegrees: number;
  /** Protected ground within it of the axis: the wind does not work. */
  readonly coreHalfAngleDegrees: number;
  /** Steps in which the record gives directions; half of it is added. */
  readonly reportingStepDegrees: number;
  /** How far the ground and the woods turn the wind on its way. */
  readonly localTurningDegrees: number;
  readonly lightAir: LightAir;
}

/** Ours, common practice at best: trade notes, section 6.8 and Q23. Never to be called fact. */
export const usualDriftRule: DriftRule = {
  rangeMeters: 300 * 0.9144,
  leastHalfAngleDegrees: 30,
  coreHalfAngleDegrees: 15,
  reportingStepDegrees: 10,
  localTurningDegrees: 15,
  lightAir: usualLightAir,
};
