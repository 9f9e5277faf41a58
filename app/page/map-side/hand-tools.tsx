import type { ReactElement } from 'react';
import { isDrawing, isDrawingRun } from '../../actions/shaping.ts';
import { useSession } from '../../store/use-session.ts';
import { legText } from '../../words/aim-words.ts';
import { ActionButton } from '../action-button.tsx';
import { LegField } from './leg-field.tsx';

/** Drawing to the foot, and without a pointer: the run to the next point, catching, the cross. */
export function HandTools(): ReactElement | null {
  const drawing = useSession(isDrawing);
  const isRun = useSession(isDrawingRun);
  const placed = useSession((state) => state.placed);
  const snapping = useSession((state) => state.snapping);
  const cross = useSession((state) => state.cross);
  return (
    <>
      <div className="tools hand-tools">
        <ActionButton name="snapping" pressed={snapping}>
          Catch
        </ActionButton>
        {drawing && (
          <ActionButton name="cross" pressed={cross}>
            Cross
          </ActionButton>
        )}
        {drawing && cross && <ActionButton name="place-point">Set point</ActionButton>}
        {isRun && placed > 0 && <LegField />}
      </div>
      {drawing && cross && (
        <p className="narrow aside hand-words">
          Arrow keys move the map under the cross, Space sets a point, Enter finishes.
        </p>
      )}
    </>
  );
}

/** The run to the pointer, and what it is caught on. */
export function LegNumbers(): ReactElement | null {
  const leg = useSession((state) => state.leg);
  const caught = useSession((state) => state.caught);
  const units = useSession((state) => state.settings.units);
  if (!leg && !caught) return null;
  const words = leg && legText(leg, units);
  return (
    <span data-testid="leg">
      {words && (
        <>
          <b>{words.length}</b> {words.bearing}
        </>
      )}
      {caught && <span className="aside"> {caught}</span>}
    </span>
  );
}
