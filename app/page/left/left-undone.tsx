import type { ReactElement, ReactNode } from 'react';
import { isOutOfDate, type AnswersNamed } from '../../store/left-undone.ts';
import { useSession } from '../../store/use-session.ts';
import './left.css';

/**
 * What is shown of some answers: marked with a word and a dashed rule where the work was stopped
 * before they were worked out anew. What stands inside stays as it was, folds and fields too.
 */
export function LeftUndone({
  of,
  children,
}: {
  readonly of: AnswersNamed;
  readonly children: ReactNode;
}): ReactElement {
  const left = useSession((state) => isOutOfDate(state, of));
  return (
    <div className="maybe-left" data-left={left}>
      {left && <p className="narrow left-word">As it was before.</p>}
      {children}
    </div>
  );
}
