import type { ReactElement } from 'react';
import { figure } from '../../words/format.ts';
import { parseNorth } from '../../words/parse-north.ts';
import { WrittenField } from '../fields.tsx';
import { useServices } from '../services.ts';

/** Which north the bearings count from. */
export function NorthField({ northDegrees }: { readonly northDegrees: number }): ReactElement {
  const services = useServices();
  return (
    <details className="fold deed-north" open={northDegrees !== 0}>
      <summary className="narrow">
        {northDegrees === 0
          ? 'Bearings are taken from true north'
          : `Bearings are turned ${turned(northDegrees)}`}
      </summary>
      <WrittenField
        label="The deed’s north lies"
        shown={northDegrees === 0 ? '0°' : northWords(northDegrees)}
        read={(text) => {
          const value = parseNorth(text);
          return value === null
            ? { wrong: 'Write degrees east or west, such as 3.5 W or 1°15’ E, under 45.' }
            : { value };
        }}
        onValue={(degrees) => services.setDeed({ northDegrees: degrees })}
        help="Off true north. A magnetic deed: the declination of its year. A grid deed (state plane): how far grid north lies off true north there. An old line found on the ground tells it best."
      />
    </details>
  );
}

function northWords(degrees: number): string {
  return `${figure(Math.abs(degrees), 2).replace(/\.?0+$/, '')}° ${degrees < 0 ? 'W' : 'E'}`;
}

function turned(degrees: number): string {
  const size = figure(Math.abs(degrees), 2).replace(/\.?0+$/, '');
  return `${size}° to the ${degrees < 0 ? 'left' : 'right'}`;
}
