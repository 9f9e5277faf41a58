import { roundEndsVolume, sectionArea, type WindrowSection } from './windrow-sections.ts';

/**
 * Volume of one part of a berm without a gap, m³, from toe to toe along its line: the section along
 * all but half a width at each end, which are round. A part shorter than it is wide makes no full
 * section: it is a round heap as long as the part, of the same sides, and so lower.
 * Bends are taken as cut on their bisectors, which neither adds nor takes (`bendLoss`).
 * Throws RangeError for a length or a section below 0 or no number.
 * Example: 100 ft of the parabola 24 × 9 ft is 144 × 76 + 2,035.75 = 12,980 ft³.
 */
export function partVolume(section: WindrowSection, lengthMeters: number): number {
  checkSection(section);
  if (!(lengthMeters >= 0 && lengthMeters < Infinity)) {
    throw new RangeError(`a part of a berm ${lengthMeters} m long`);
  }
  const { baseWidthMeters: width } = section;
  if (width === 0) return 0;
  const ends = roundEndsVolume(section);
  if (lengthMeters < width) return ends * (lengthMeters / width) ** 3;
  return sectionArea(section) * (lengthMeters - width) + ends;
}

/**
 * Length of a part that holds a volume, metres; the inverse of `partVolume`.
 * Infinity for a section that holds nothing.
 */
export function partLength(section: WindrowSection, cubicMeters: number): number {
  checkSection(section);
  if (cubicMeters === 0) return 0;
  const { baseWidthMeters: width } = section;
  const ends = roundEndsVolume(section);
  if (ends === 0) return Infinity;
  if (cubicMeters < ends) return width * Math.cbrt(cubicMeters / ends);
  return width + (cubicMeters - ends) / sectionArea(section);
}

/** Volume of a berm of several parts between gaps, m³. */
export function bermVolume(section: WindrowSection, partLengths: readonly number[]): number {
  return partLengths.reduce((sum, length) => sum + partVolume(section, length), 0);
}

/** A piece of a berm to push to, stations in metres along its line. */
export interface BermPiece {
  readonly fromMeters: number;
  readonly toMeters: number;
  readonly cubicMeters: number;
}

/**
 * The parts of a berm (stations from, to) cut into equal pieces no longer than `pieceMeters`, each
 * with its share by length of what its part holds. Throws RangeError for pieces without length.
 */
export function bermPieces(
  section: WindrowSection,
  parts: readonly (readonly [from: number, to: number])[],
  pieceMeters: number,
): BermPiece[] {
  if (!(pieceMeters > 0)) throw new RangeError(`pieces ${pieceMeters} m long`);
  return parts.flatMap(([from, to]) => {
    const count = Math.max(1, Math.ceil((to - from) / pieceMeters));
    const cubicMeters = partVolume(section, to - from) / count;
    const station = (i: number) => from + ((to - from) * i) / count;
    return Array.from({ length: count }, (_, i): BermPiece => {
      return { fromMeters: station(i), toMeters: station(i + 1), cubicMeters };
    });
  });
}

function checkSection({ baseWidthMeters, heightMeters }: WindrowSection): void {
  for (const value of [baseWidthMeters, heightMeters]) {
    if (!(value >= 0 && value < Infinity)) throw new RangeError(`a section of ${value} m`);
  }
}
