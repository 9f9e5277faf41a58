import type { ReactElement } from 'react';
import { useSession } from '../../store/use-session.ts';
import { useServices } from '../services.ts';

/** What was done that the user should know of, in the file's or the project's own words. */
export function NoticeBox(): ReactElement | null {
  const notice = useSession((state) => state.notice);
  const services = useServices();
  if (!notice) return null;
  return (
    <section className="notice calm" role="status" aria-label="Notice">
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
