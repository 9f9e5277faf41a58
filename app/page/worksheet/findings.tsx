import type { ReactElement } from 'react';
import type { Finding } from '../../../geo/answers/finding.ts';
import { useSession } from '../../store/use-session.ts';
import { Said } from '../said.tsx';
import { findingLines, type FindingLine } from './finding-lines.ts';

/**
 * What the answers want said, stops first. Beside anything urgent the notes fold away; in the panel
 * of the feature that they are about (`own`) its name is left out.
 */
export function Findings({
  of,
  own = false,
}: {
  readonly of: readonly Finding[];
  readonly own?: boolean;
}): ReactElement | null {
  const features = useSession((state) => state.features);
  const units = useSession((state) => state.settings.units);
  const lines = findingLines(of, units, ({ about }) =>
    own ? [] : about.flatMap((id) => features[id]?.name || []),
  );
  const urgent = lines.filter(({ level }) => level !== 'note');
  const notes = lines.filter(({ level }) => level === 'note');
  if (urgent.length === 0 || own) return <FindingList of={lines} />;
  return (
    <>
      <FindingList of={urgent} />
      {notes.length > 0 && (
        <details className="fold">
          <summary className="narrow">
            {notes.length === 1 ? 'One note' : `${notes.length} notes`}
          </summary>
          <FindingList of={notes} />
        </details>
      )}
    </>
  );
}

/** Each level has its own bar and its own word; the word of the milder two is only read aloud. */
function FindingList({ of }: { readonly of: readonly FindingLine[] }): ReactElement | null {
  if (of.length === 0) return null;
  return (
    <ul className="findings">
      {of.map(({ key, level, lead, rest }) => (
        <li key={key} className={`finding ${level}`}>
          <Said>
            <b>
              {level === 'stop' ? (
                'Stop. '
              ) : (
                <span className="out-of-sight">{level === 'caution' ? 'Caution. ' : 'Note. '}</span>
              )}
              {lead}
            </b>{' '}
            {rest}
          </Said>
        </li>
      ))}
    </ul>
  );
}
