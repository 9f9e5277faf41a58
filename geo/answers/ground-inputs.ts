import type { PlanFeature, Position } from '../plan/feature.ts';
import type { Frame } from '../frame/crs-types.ts';
import type { Finding } from './finding.ts';
import { surveyQuality, type SurveySaid } from './survey-quality.ts';
import type { GroundInUse, Inputs } from './definition.ts';

/** What several answers take from their inputs in the same way. */

/** A position in frame metres; null where the projection has no such place, half a world away. */
export function inFrame(frame: Frame, [lng, lat]: Position): [number, number] | null {
  try {
    return frame.fromLngLat(lng, lat);
  } catch (error) {
    if (error instanceof RangeError) return null;
    throw error;
  }
}

/**
 * Rings of a polygon feature in frame metres, the outer one first; null where the projection has
 * no place for one of its corners, which is then far off any ground in that frame.
 */
export function ringsInFrame(feature: PlanFeature, frame: Frame): [number, number][][] | null {
  if (feature.geometry.type !== 'Polygon') {
    throw new RangeError(`${feature.id} is a ${feature.geometry.type}, not a polygon`);
  }
  const rings: [number, number][][] = [];
  for (const ring of feature.geometry.coordinates) {
    const corners = ring.map((position) => inFrame(frame, position));
    if (corners.includes(null)) return null;
    rings.push(corners as [number, number][]);
  }
  return rings;
}

/** Whether a surface lies in the frame of the ground, so that its places are the ground's. */
export function isOneFrame(ground: GroundInUse, surface: GroundInUse): boolean {
  return ground.grid.frame.proj === surface.grid.frame.proj;
}

/** A true bearing (0 up to 360) from one on the grid. */
export function trueBearing(
  ground: GroundInUse,
  gridDegrees: number,
  x: number,
  y: number,
): number {
  const { convergenceDegrees } = ground.frame.distortionAt(x, y);
  return (((gridDegrees + convergenceDegrees) % 360) + 360) % 360;
}

/** Low spots count from this depth on: the list's own limit, and never under the survey's error. */
export function listedDepthMeters(inputs: Inputs, ground: GroundInUse): number {
  return listedDepth(inputs.settings.listMinDepthMeters, ground.record);
}

/** The set depth, and never under the survey's error, stated or assumed; metres. */
export function listedDepth(setMeters: number, record: SurveySaid): number {
  return Math.max(setMeters, surveyQuality(record).verticalErrorMeters);
}

/** Says how far a survey may be trusted: one sentence, the same under every answer. */
export function surveyConfidence(ground: GroundInUse | null): string {
  if (!ground) return 'There is no ground; only what the outline itself says can be trusted.';
  const { grade } = surveyQuality(ground.record);
  if (grade === 'survey-grade')
    return 'Survey grade: good enough to stake from, after a check shot.';
  if (grade === 'planning-grade')
    return 'Planning grade: good enough to choose by; shoot it again before cutting.';
  return 'Walk it first: this survey is too coarse to rely on, or too little is known about it.';
}

export function finding(
  level: Finding['level'],
  code: string,
  about: readonly string[] = [],
  values: Finding['values'] = {},
): Finding {
  return { level, code, about, values };
}
