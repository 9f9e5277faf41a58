import type { ReactElement } from 'react';
import { useSession } from '../../store/use-session.ts';
import { courseWords } from '../../words/deed-words.ts';
import type { DeedFigure } from './deed-figure.ts';

/** Each call read back as a deed writes it, or what is wrong with it. */
export function CourseList({ figure }: { readonly figure: DeedFigure }): ReactElement | null {
  const units = useSession((state) => state.settings.units);
  const leftOut = figure.courses.filter(({ read }) => read === null);
  const read = figure.courses.filter((course) => course.read !== null);
  if (figure.courses.length === 0) return null;
  return (
    <section className="deed-courses" aria-label="Calls read back">
      <ol className="narrow">
        {read.map(({ words, read: course }, at) => (
          // A call has no name of its own but its place.
          <li key={at} data-unread={course?.ok === false}>
            {course?.ok ? (
              courseWords(course.value, units)
            ) : (
              <>
                <b>{course?.problem.what}</b> {course?.problem.wayOut}
                <span className="out-of-sight"> {words}</span>
              </>
            )}
          </li>
        ))}
      </ol>
      {leftOut.length > 0 && (
        <details className="fold">
          <summary className="narrow">
            {leftOut.length === 1 ? 'Words passed over' : `${leftOut.length} stretches passed over`}
          </summary>
          <ul className="bring-in-notes narrow">
            {leftOut.map(({ words }, at) => (
              <li key={at}>{words}</li>
            ))}
          </ul>
        </details>
      )}
    </section>
  );
}
