import { useMemo, type ReactElement } from 'react';
import { useSession } from '../../store/use-session.ts';
import { debrisQuantity, volumeUnit } from '../../words/debris-words.ts';
import { PickFeature } from './pick-feature.tsx';
import { ofKind } from './section-states.ts';

/** The brush piles drawn: what each holds, and what of the debris comes to it. */
export function HeapLines(): ReactElement | null {
  const features = useSession((state) => state.features);
  const answers = useSession((state) => state.answers);
  const units = useSession((state) => state.settings.units);
  const heaps = useMemo(() => ofKind(features, 'heap'), [features]);
  if (heaps.length === 0) return null;
  return (
    <table className="numbers narrow picks">
      <caption className="out-of-sight">Brush piles</caption>
      <thead>
        <tr>
          <th scope="col">Brush pile</th>
          <th scope="col">holds, {volumeUnit(units)}</th>
          <th scope="col">gets</th>
        </tr>
      </thead>
      <tbody>
        {heaps.map((heap) => {
          const { id, properties } = heap;
          const value = answers[id]?.heapHolds?.value;
          const holds = value?.holdsCubicMeters ?? null;
          const comes = value?.comesCubicMeters ?? null;
          return (
            <tr key={id}>
              <th scope="row">
                <PickFeature of={heap} />
              </th>
              <td>
                {!value ? (
                  '…'
                ) : holds === null ? (
                  'no size'
                ) : (
                  <b>{debrisQuantity(holds, units).text}</b>
                )}
              </td>
              <td>
                {properties.taped
                  ? 'stands'
                  : comes !== null && <b>{debrisQuantity(comes, units).text}</b>}
              </td>
            </tr>
          );
        })}
      </tbody>
    </table>
  );
}
