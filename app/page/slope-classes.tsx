import { useId, type ReactElement } from 'react';
import { areaQuantity, spoken, type UnitSystem } from '../words/format.ts';
import { Figure } from './quantity.tsx';
import { slopeLegend } from '../../layers/legends.ts';
import { SlopeHatch, SlopeSwatch } from './slope-hatch.tsx';

/** How much of a plot lies in each slope class: a bar to scale and the acres of each class. */
export function SlopeClasses({
  areas,
  units,
}: {
  readonly areas: readonly number[];
  readonly units: UnitSystem;
}): ReactElement {
  const id = useId();
  const total = areas.reduce((sum, area) => sum + area, 0);
  const starts = areas.map((_, index) => areas.slice(0, index).reduce((sum, a) => sum + a, 0));
  const said = areas
    .map((area, index) => `${slopeLegend[index]!.words}: ${spoken(areaQuantity(area, units))}`)
    .join('; ');
  const worthListing = (area: number): boolean => area > total * 0.0005;
  return (
    <figure className="slope-classes narrow">
      <svg width="100%" height="18" role="img" aria-label={`Slope classes. ${said}`}>
        <defs>
          {areas.map((_, index) => (
            <SlopeHatch key={index} id={`${id}-${index}`} index={index} />
          ))}
        </defs>
        {total > 0 &&
          areas.map((area, index) => (
            <rect
              key={index}
              x={`${(starts[index]! / total) * 100}%`}
              width={`${(area / total) * 100}%`}
              y="1"
              height="16"
              fill={`url(#${id}-${index})`}
              stroke="var(--ink)"
              strokeWidth="1"
            />
          ))}
        <rect x="0.5" y="1" width="99.7%" height="16" fill="none" stroke="var(--ink)" />
      </svg>
      <ul>
        {areas.map((area, index) =>
          worthListing(area) ? (
            <li key={index}>
              <SlopeSwatch id={`${id}s${index}`} index={index} />
              <span>{slopeLegend[index]!.words}</span>
              <Figure of={areaQuantity(area, units)} />
            </li>
          ) : null,
        )}
      </ul>
    </figure>
  );
}
