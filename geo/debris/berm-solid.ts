import type { Ridge } from '../ground/earthworks.ts';
import type { PropertiesOf } from '../plan/kinds.ts';
import { distanceToPiece, lineLength, linePart, placeAt } from '../plan/line-geometry.ts';
import type { XY } from '../plan/overlay/arrangement.ts';
import { solidParts } from './berm-parts.ts';
import { sectionHeight } from './section-height.ts';

type Shape = Pick<PropertiesOf<'berm'>, 'section' | 'baseWidthMeters' | 'heightMeters' | 'gaps'>;

/**
 * The solids of a berm between its gaps, each a ridge with round ends about the middle of its part:
 * from half a width behind its toe to half a width before the other. What `berm-volume` counts is
 * what these hold, less what bends take (`bendLoss`). A part shorter than the berm is wide is a
 * round heap about its middle, as wide as it is long and lower in proportion (its line is that
 * point, twice). Empty for a line without length and a berm without width.
 * @param line corners in frame metres
 * @param frameMetersPerMeter frame metres to one metre on the ground, in which the berm is said
 * Example: 100 m, 7 m wide, without gaps: a ridge of 93 m and half a disc at each end.
 */
export function bermSolids(
  line: readonly XY[],
  { section, baseWidthMeters, heightMeters, gaps }: Shape,
  frameMetersPerMeter = 1,
): Ridge[] {
  const scale = frameMetersPerMeter;
  const length = lineLength(line);
  if (!(length > 0) || !(baseWidthMeters > 0)) return [];
  return solidParts(length / scale, gaps).map(([from, to]): Ridge => {
    const width = Math.min(baseWidthMeters, to - from);
    const height = heightMeters * (width / baseWidthMeters);
    const [start, end] = [(from + width / 2) * scale, (to - width / 2) * scale];
    const middle = linePart(line, start, end);
    return {
      line: middle.length > 1 ? middle : [placeAt(line, start).at, placeAt(line, start).at],
      halfWidth: (width / 2) * scale,
      roundEnds: true,
      heightAt: (distance) => sectionHeight(section, width, height, distance / scale),
    };
  });
}

/** Height of a berm over the ground at a place in the frame, metres; 0 outside. */
export function bermHeightAt(solids: readonly Ridge[], x: number, y: number): number {
  let height = 0;
  for (const { line, halfWidth, heightAt } of solids) {
    for (let i = 1; i < line.length; i++) {
      const distance = distanceToPiece([x, y], line[i - 1]!, line[i]!);
      if (distance < halfWidth) height = Math.max(height, heightAt(distance));
    }
  }
  return height;
}
