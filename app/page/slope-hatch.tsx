import type { ReactElement } from 'react';
import { slopeLegend } from '../../layers/legends.ts';

// Drawn a little denser than on the map, so that a small swatch still tells the classes apart.
const DENSER = 1.7;

/** The hatch of one slope class as the map draws it: one ink, a darker wash, a closer hatch. */
export function SlopeHatch({
  id,
  index,
}: {
  readonly id: string;
  readonly index: number;
}): ReactElement {
  const { fill, opacity, hatchPitch, crossed } = slopeLegend[index]!.swatch;
  const pitch = hatchPitch === 0 ? 8 : Math.max(4, hatchPitch * 0.75);
  return (
    <pattern
      id={id}
      width={pitch}
      height={pitch}
      patternUnits="userSpaceOnUse"
      patternTransform="rotate(45)"
    >
      <rect width={pitch} height={pitch} fill="var(--paper)" />
      <rect width={pitch} height={pitch} fill={fill} opacity={opacity * DENSER} />
      {hatchPitch > 0 && <path d={`M0 0 V${pitch}`} stroke={fill} strokeWidth="1.6" />}
      {crossed && <path d={`M0 0 H${pitch}`} stroke={fill} strokeWidth="1.6" />}
    </pattern>
  );
}

/** A small square of one class, for legends. */
export function SlopeSwatch({
  id,
  index,
}: {
  readonly id: string;
  readonly index: number;
}): ReactElement {
  return (
    <svg className="swatch" viewBox="0 0 26 16" width="26" height="16" aria-hidden="true">
      <defs>
        <SlopeHatch id={id} index={index} />
      </defs>
      <rect x="0.5" y="0.5" width="25" height="15" fill={`url(#${id})`} stroke="var(--ink)" />
    </svg>
  );
}
