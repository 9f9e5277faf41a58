import type { ReactElement } from 'react';
import { useServices } from '../services.ts';

/** Latitude and longitude look exchanged: the user says, nothing is turned by itself. */
export function AskSwapped(): ReactElement {
  const services = useServices();
  return (
    <div className="tools">
      <button
        type="button"
        className="button lead"
        onClick={() => services.answerQuestion({ swapped: true })}
      >
        Exchange them
      </button>
      <button
        type="button"
        className="button"
        onClick={() => services.answerQuestion({ swapped: false })}
      >
        Leave them as they are
      </button>
      <button type="button" className="button" onClick={() => services.leaveOpening()}>
        Do not open it
      </button>
    </div>
  );
}
