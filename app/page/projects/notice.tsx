import type { ReactElement } from 'react';
import { useSession } from '../../store/use-session.ts';
import { useServices } from '../services.ts';

/**
 * What was done that the user should know of. It stands in the margin: over the map it would lie in
 * the way of the next corner.
 */
export function NoticeBox(): ReactElement | null {
  const notice = useSession((state) => state.notice);
  const services = useServices();
  if (!notice) return null;
  return (
    <section className="margin-notice" role="status" aria-label="Notice">
      <p>
        <b>{notice.what}</b>
      </p>
      {notice.lines.length > 0 && (
        <ul className="notice-lines narrow">
          {notice.lines.map((line) => (
            <li key={line}>{line}</li>
          ))}
        </ul>
      )}
      <div className="tools">
        <button type="button" className="button" onClick={() => services.dismissNotice()}>
          Understood
        </button>
      </div>
    </section>
  );
}
