import type { ReactElement } from 'react';
import { useSession } from '../../store/use-session.ts';
import { copyReminderLine } from '../../words/project-words.ts';
import { ActionButton } from '../action-button.tsx';
import { useClock } from '../use-clock.ts';

/** Reminds of a copy outside of this browser, once enough has changed since the last one. */
export function KeepCopy(): ReactElement | null {
  const copy = useSession((state) => state.copy);
  const now = useClock(60_000);
  const line = copyReminderLine(copy, now);
  if (line === null) return null;
  return (
    <section className="keep-copy narrow" aria-label="Keep a copy" role="status">
      <span>{line}</span>
      <ActionButton name="save-copy" />
    </section>
  );
}
