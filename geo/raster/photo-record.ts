/**
 * What is kept of an aerial photo besides its pixels. A photo stays in its own coordinate system:
 * `plane` stretches that system's units to about metres, so that its cells can be compared with the
 * map's pixels. `id` is the SHA-256 of its pixels in hex.
 */
export interface PhotoRecord {
  readonly id: string;
  readonly name: string;
  readonly plane: PhotoPlane;
  readonly width: number;
  readonly height: number;
  /** North-west corner and cell size in the plane. */
  readonly west: number;
  readonly north: number;
  readonly cellWidth: number;
  readonly cellHeight: number;
  /** [west, south, east, north], degrees. */
  readonly bounds: readonly [number, number, number, number];
  /** Cell size on the ground. */
  readonly cellMeters: number;
  readonly sourceFiles: readonly string[];
  /** What was done on the way in, for the reader's eyes. */
  readonly notes: readonly string[];
}

export interface PhotoPlane {
  /** PROJ string of the photo's own system. */
  readonly proj: string;
  /** Plane metres per unit of that system, east and north. */
  readonly metersPerUnitEast: number;
  readonly metersPerUnitNorth: number;
}
