import { useMemo, type ReactElement } from 'react';
import { useSession } from '../../store/use-session.ts';
import { ChoiceField } from '../fields.tsx';
import { useServices } from '../services.ts';

/** Which of the elevations of the plan is the ground, and which is a surface flown over it. */
export function GroundChoice(): ReactElement | null {
  const grounds = useSession((state) => state.grounds);
  const { groundId, surfaceId } = useSession((state) => state.settings);
  const services = useServices();
  const options = useMemo(
    () => Object.values(grounds).map(({ id, name }) => [id, name || 'unnamed'] as const),
    [grounds],
  );
  if (options.length < 2) return null;
  return (
    <>
      <ChoiceField
        label="Ground in use"
        value={groundId}
        options={options}
        onValue={(id) => services.setSetting('groundId', id)}
      />
      <ChoiceField
        label="Surface over it: tree tops before clearing, heaps after"
        value={surfaceId === groundId ? '' : surfaceId}
        options={[['', 'none'], ...options.filter(([id]) => id !== groundId)]}
        onValue={(id) => services.setSetting('surfaceId', id)}
      />
    </>
  );
}
