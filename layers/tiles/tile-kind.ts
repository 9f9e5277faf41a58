/** What the tile renderer can draw; `contours` lies over any of the others. */
export type TileKind = 'relief' | 'slope' | 'elevation' | 'photo' | 'contours';

export const tileKinds: readonly TileKind[] = ['photo', 'elevation', 'relief', 'slope', 'contours'];

/** One square of the web-mercator pyramid; `size` is its edge in pixels (512 on a fine screen). */
export interface TileAddress {
  readonly z: number;
  readonly x: number;
  readonly y: number;
  readonly size: number;
}
