import type { FeatureCollection } from 'geojson';
import { airFeatures, airSource, type AirShape } from './plan/air-layers.ts';
import { laneFeatures, laneSource, type LaneShape } from './plan/lane-layers.ts';
import { damFeatures, damSource, type DamShapes } from './plan/dam-layers.ts';
import { flowFeatures, flowSource, type FlowShapes } from './plan/flow-layers.ts';
import { pushFeatures, pushSource, type PushShapes } from './plan/push-layers.ts';
import { standFeatures, standSource, type StandShapes } from './plan/stand-layers.ts';
import { lowSpotFeatures, lowSpotSource, type LowSpotShape } from './plan/low-spot-layers.ts';

const sources = {
  lowSpots: lowSpotSource,
  flow: flowSource,
  dams: damSource,
  waysIn: laneSource,
  stands: standSource,
  air: airSource,
  pushes: pushSource,
} as const;
export type WaterSource = keyof typeof sources;

/** What the map shows of the water, the debris and the air. */
export interface WaterControls {
  /** Which of these are out of date, and stand pale. */
  setFaded(names: readonly WaterSource[]): void;
  setLowSpots(spots: readonly LowSpotShape[]): void;
  setFlow(shapes: FlowShapes): void;
  setDams(shapes: DamShapes): void;
  setPushes(shapes: PushShapes): void;
  setAir(shapes: readonly AirShape[]): void;
  setWaysIn(lanes: readonly LaneShape[]): void;
  setStands(shapes: StandShapes): void;
}

/**
 * @param put says what a source shows from the next frame on
 * @param fade makes the layers of these sources pale, and no others
 */
export function waterControls(
  put: (source: string, features: () => FeatureCollection) => void,
  fade: (sources: ReadonlySet<string>) => void,
): WaterControls {
  return {
    setFaded: (names) => fade(new Set(names.map((name) => sources[name]))),
    setLowSpots: (spots) => put(lowSpotSource, () => lowSpotFeatures(spots)),
    setFlow: (shapes) => put(flowSource, () => flowFeatures(shapes)),
    setDams: (shapes) => put(damSource, () => damFeatures(shapes)),
    setWaysIn: (lanes) => put(laneSource, () => laneFeatures(lanes)),
    setStands: (shapes) => put(standSource, () => standFeatures(shapes)),
    setAir: (shapes) => put(airSource, () => airFeatures(shapes)),
    setPushes: (shapes) => put(pushSource, () => pushFeatures(shapes)),
  };
}
