import type { ReactElement } from 'react';
import type { Standing } from './section-states.ts';

/**
 * The standing of a section as a survey symbol: an open point, a set point, a flagged stake, a
 * point not staked out yet. The word stands beside it.
 */
export function Mark({ standing }: { readonly standing: Standing }): ReactElement {
  return (
    <svg className="mark" viewBox="0 0 18 18" width="18" height="18" aria-hidden="true">
      {standing === 'empty' && <circle cx="9" cy="9" r="4.4" fill="none" strokeWidth="1.8" />}
      {standing === 'answered' && <circle cx="9" cy="9" r="5.2" fill="var(--ink)" stroke="none" />}
      {standing === 'look' && (
        <>
          <path d="M5 2.5 L15 5.8 L5 9.1 Z" fill="var(--flag)" stroke="none" />
          <path d="M5 2 V16.5 M2.6 16.5 H7.4" fill="none" strokeWidth="1.8" />
        </>
      )}
      {standing === 'later' && (
        <circle cx="9" cy="9" r="4.4" fill="none" strokeWidth="1.6" strokeDasharray="2.3 2.3" />
      )}
    </svg>
  );
}
