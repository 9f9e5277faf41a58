import type { ReactElement } from 'react';
import { useSession } from '../../store/use-session.ts';
import { tape } from '../../words/format.ts';

/** How far apart the contour lines are at this scale, and what their numbers are in. */
export function ContourWords(): ReactElement | null {
  const step = useSession((state) => state.scale?.contourIntervalMeters ?? null);
  const base = useSession((state) => state.view.base);
  const hasGround = useSession((state) => state.settings.groundId !== '');
  const units = useSession((state) => state.settings.units);
  if (step === null || !hasGround || base === 'photo' || base === 'slope') return null;
  return (
    <p className="credit contour-words narrow" data-testid="contour-words">
      contours every {tape(step, units)}
    </p>
  );
}
