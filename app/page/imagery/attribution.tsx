import type { ReactElement } from 'react';
import { imageryShare } from '../../../layers/base-view.ts';
import { useSession } from '../../store/use-session.ts';

/** Who is to be named for the imagery in sight; always text, whatever a service sends. */
export function Attribution(): ReactElement | null {
  const imagery = useSession((state) => state.settings.imagery);
  const isSeen = useSession((state) => imageryShare(state.view) > 0);
  const credits = new Set(
    imagery
      .filter((layer) => layer.shown && layer.opacity > 0 && layer.attribution !== '')
      .map((layer) => layer.attribution),
  );
  if (!isSeen || credits.size === 0) return null;
  return (
    <p className="credit narrow" data-testid="attribution">
      {[...credits].join(' · ')}
    </p>
  );
}
