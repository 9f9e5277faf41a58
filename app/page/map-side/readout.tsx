import type { ReactElement } from 'react';
import { useSession } from '../../store/use-session.ts';
import { areaQuantity, coordinate, elevationQuantity, slopeQuantity } from '../../words/format.ts';
import { Figure } from '../quantity.tsx';
import { errorOf } from '../worksheet/section-states.ts';

/** Coordinate, elevation and slope under the pointer; what drains there while Water is open. */
export function Readout(): ReactElement | null {
  const pointer = useSession((state) => state.pointer);
  const units = useSession((state) => state.settings.units);
  const error = useSession(errorOf);
  const isWater = useSession((state) => state.openSection === 'water');
  if (!pointer) return null;
  return (
    <div className="readout narrow" data-testid="readout">
      <span>{coordinate(pointer.lng, pointer.lat)}</span>
      {pointer.elevationMeters !== null && (
        <span>
          <span className="word">elevation </span>
          <Figure of={elevationQuantity(pointer.elevationMeters, error, units)} />
        </span>
      )}
      {pointer.slope !== null && (
        <span>
          <span className="word">slope </span>
          <Figure of={slopeQuantity(pointer.slope)} />
        </span>
      )}
      {isWater && pointer.catchmentSquareMeters !== null && (
        <span>
          <span className="word">drains </span>
          <Figure of={areaQuantity(pointer.catchmentSquareMeters, units)} />
        </span>
      )}
    </div>
  );
}
