import type { TileKind } from './tiles/tile-kind.ts';

/** What lies under the linework, and how much photo there is in the plan view (0 to 1). */
export interface BaseView {
  readonly base: 'plan' | 'photo' | 'relief' | 'slope' | 'elevation';
  readonly photoShare: number;
}

/** How much of online imagery the view lets through: it stands beside the photo. */
export function imageryShare({ base, photoShare }: BaseView): number {
  if (base === 'photo') return 1;
  return base === 'plan' ? Math.max(0, Math.min(1, photoShare)) : 0;
}

/**
 * Opacity of each raster over paper, 0 to 1. The plan view is the photo let down with paper by the
 * part that `photoShare` leaves, with relief the fainter the more photo there is.
 */
export function baseOpacities(
  { base, photoShare }: BaseView,
  has: { readonly ground: boolean; readonly photo: boolean; readonly imagery?: boolean },
): Record<TileKind, number> {
  const share = has.photo || has.imagery ? Math.max(0, Math.min(1, photoShare)) : 0;
  const none = { photo: 0, elevation: 0, relief: 0, slope: 0, contours: 0 };
  const wanted: Record<BaseView['base'], Partial<Record<TileKind, number>>> = {
    plan: { photo: share, relief: 1 - 0.72 * share, contours: 0.75 },
    photo: { photo: 1 },
    relief: { relief: 1, contours: 0.8 },
    slope: { relief: 0.45, slope: 1 },
    elevation: { elevation: 1, relief: 0.8, contours: 0.8 },
  };
  const opacities = { ...none, ...wanted[base] };
  if (!has.photo) opacities.photo = 0;
  if (!has.ground)
    opacities.elevation = opacities.relief = opacities.slope = opacities.contours = 0;
  return opacities;
}
