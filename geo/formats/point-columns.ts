/** Which column of a point table holds what, counted from 0. */
export interface PointColumns {
  readonly x: number;
  readonly y: number;
  readonly z: number;
  /** True where x is longitude and y latitude in degrees. */
  readonly degrees: boolean;
}

/** The head of a point table, for correcting the guess. */
export interface PointPreview {
  /** Column names from the file's own header, or null where it has none. */
  readonly names: readonly string[] | null;
  readonly rows: readonly (readonly string[])[];
  readonly guess: PointColumns;
  /** One plain sentence: what the guess rests on. */
  readonly reason: string;
}
