/**
 * A plan as it is stored and sent: plain values by map and key, not yet checked. Storage, project
 * files and migrations speak of plans in this form; `parseStored` makes checked values of it.
 */
export type PlanMap = 'features' | 'settings' | 'grounds' | 'photos' | 'conditions';

export const planMaps: readonly PlanMap[] = [
  'features',
  'settings',
  'grounds',
  'photos',
  'conditions',
];

export type RawMap = Readonly<Record<string, unknown>>;

export interface RawPlan extends Readonly<Record<PlanMap, RawMap>> {
  /** By feature id: properties that came with it and that this version does not know. */
  readonly extras: RawMap;
}

export function emptyRawPlan(): RawPlan {
  return { features: {}, settings: {}, grounds: {}, photos: {}, conditions: {}, extras: {} };
}

export function isObject(value: unknown): value is Readonly<Record<string, unknown>> {
  return typeof value === 'object' && value !== null && !Array.isArray(value);
}
