import { useId, type ReactElement } from 'react';
import { slopeLegend } from '../../layers/legends.ts';
import { areaQuantity, spoken, type UnitSystem } from '../words/format.ts';
import { Figure } from './quantity.tsx';
import { SlopeHatch, SlopeSwatch } from './slope-hatch.tsx';

interface Classes {
  /** Square metres in each slope class, gentlest first. */
  readonly areas: readonly number[];
  readonly units: UnitSystem;
}

/** How much of a plot lies in each slope class, drawn to scale in one ink. */
export function SlopeBar({ areas, units }: Classes): ReactElement {
  const id = useId();
  const total = areas.reduce((sum, area) => sum + area, 0);
  const starts = areas.map((_, index) => areas.slice(0, index).reduce((sum, a) => sum + a, 0));
  const said = areas
    .map((area, index) => `${slopeLegend[index]!.words}: ${spoken(areaQuantity(area, units))}`)
    .join('; ');
  return (
    <svg className="slope-bar" height="14" role="img" aria-label={`Slope classes. ${said}`}>
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
            height="14"
            fill={`url(#${id}-${index})`}
            stroke="var(--ink)"
          />
        ))}
    </svg>
  );
}

/** The bar with the acres of each class under it. */
export function SlopeClasses({ areas, units }: Classes): ReactElement {
  const id = useId();
  const total = areas.reduce((sum, area) => sum + area, 0);
  return (
    <figure className="slope-classes narrow">
      <SlopeBar areas={areas} units={units} />
      <ul>
        {areas.map((area, index) =>
          area > total * 0.0005 ? (
            <li key={index}>
              <SlopeSwatch id={`${id}${index}`} index={index} />
              <span>{slopeLegend[index]!.words}</span>
              <Figure of={areaQuantity(area, units)} />
            </li>
          ) : null,
        )}
      </ul>
    </figure>
  );
}
