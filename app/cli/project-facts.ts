import { isObject } from '../../geo/plan/raw-plan.ts';
import type { ProjectOnDisk } from './open-project.ts';

/** A project in JSON, without its shapes and numbers. */
export function projectFacts({ plan, rasters, missing, notes }: ProjectOnDisk) {
  const kinds: Record<string, number> = {};
  for (const feature of Object.values(plan.features)) {
    const kind = isObject(feature) ? String(feature.kind) : 'unknown';
    kinds[kind] = (kinds[kind] ?? 0) + 1;
  }
  return {
    kind: 'project',
    siteName: plan.settings.siteName ?? '',
    features: Object.keys(plan.features).length,
    featuresByKind: kinds,
    settings: plan.settings,
    conditions: plan.conditions,
    grounds: rasters.flatMap((raster) => {
      if (raster.kind !== 'ground') return [];
      const { id, name, place, surveyedOn } = raster.record;
      return [
        {
          file: raster.path,
          name,
          id,
          surveyedOn,
          columns: place.width,
          rows: place.height,
          cellWidthMeters: place.cellWidth,
          inUse: id === plan.settings.groundId,
        },
      ];
    }),
    photos: rasters.flatMap((raster) => {
      if (raster.kind !== 'photo') return [];
      const { id, name, width, height, cellMeters } = raster.record;
      return [
        {
          file: raster.path,
          name,
          id,
          columns: width,
          rows: height,
          cellMeters,
          inUse: id === plan.settings.photoId,
        },
      ];
    }),
    missing: missing.map(({ what }) => what),
    notes,
  };
}
