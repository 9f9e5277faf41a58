import type { ReactElement } from 'react';
import type { PlanFeature } from '../../../geo/plan/feature.ts';
import { useSession } from '../../store/use-session.ts';
import { useServices } from '../services.ts';

/** The name of a drawn thing in a table: selects it, or puts it down again. */
export function PickFeature({
  of: { id, name },
}: {
  readonly of: Pick<PlanFeature, 'id' | 'name'>;
}): ReactElement {
  const selected = useSession((state) => state.selectedId === id);
  const services = useServices();
  return (
    <button
      type="button"
      className="pick"
      aria-pressed={selected}
      onClick={() => services.select(selected ? null : id)}
    >
      {name || 'unnamed'}
    </button>
  );
}
