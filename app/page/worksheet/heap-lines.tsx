import { useMemo, type ReactElement } from 'react';
import { useSession } from '../../store/use-session.ts';
import { debrisQuantity, volumeUnit } from '../../words/debris-words.ts';
import { useServices } from '../services.ts';
import { ofKind } from './section-states.ts';

/** The brush piles drawn: what each holds, and what of the debris comes to it. */
export function HeapLines(): ReactElement | null {
  const features = useSession((state) => state.features);
  const answers = useSession((state) => state.answers);
  const selectedId = useSession((state) => state.selectedId);
  const units = useSession((state) => state.settings.units);
  const services = useServices();
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
        {heaps.map(({ id, name, properties }) => {
          const value = answers[id]?.heapHolds?.value;
          const holds = value?.holdsCubicMeters ?? null;
          const comes = value?.comesCubicMeters ?? null;
          return (
            <tr key={id} data-selected={id === selectedId}>
              <th scope="row">
                <button
                  type="button"
                  className="pick"
                  aria-pressed={id === selectedId}
                  onClick={() => services.select(id === selectedId ? null : id)}
                >
                  {name || 'unnamed'}
                </button>
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
