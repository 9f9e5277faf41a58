import type { ReactElement } from 'react';
import type { Finding } from '../../../geo/answers/finding.ts';
import { useSession } from '../../store/use-session.ts';
import { inOrder, sentenceOf } from '../../words/findings.ts';

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
  const ordered = inOrder(of);
  const urgent = ordered.filter((finding) => finding.level !== 'note');
  const notes = ordered.filter((finding) => finding.level === 'note');
  if (urgent.length === 0 || own) return <FindingList of={ordered} own={own} />;
  return (
    <>
      <FindingList of={urgent} own={own} />
      {notes.length > 0 && (
        <details className="fold">
          <summary className="narrow">
            {notes.length === 1 ? 'One note' : `${notes.length} notes`}
          </summary>
          <FindingList of={notes} own={own} />
        </details>
      )}
    </>
  );
}

function FindingList({
  of,
  own,
}: {
  readonly of: readonly Finding[];
  readonly own: boolean;
}): ReactElement | null {
  const features = useSession((state) => state.features);
  if (of.length === 0) return null;
  return (
    <ul className="findings">
      {of.map((finding) => (
        <FindingLine
          key={`${finding.code} ${finding.about.join(' ')}`}
          finding={finding}
          names={own ? [] : finding.about.flatMap((id) => features[id]?.name || [])}
        />
      ))}
    </ul>
  );
}

/** Each level has its own bar and its own word; the word of the milder two is only read aloud. */
function FindingLine({
  finding,
  names,
}: {
  readonly finding: Finding;
  readonly names: readonly string[];
}): ReactElement {
  const units = useSession((state) => state.settings.units);
  const { lead, rest } = sentenceOf(finding, units);
  return (
    <li className={`finding ${finding.level}`}>
      <b>
        {finding.level === 'stop' ? (
          'Stop. '
        ) : (
          <span className="out-of-sight">
            {finding.level === 'caution' ? 'Caution. ' : 'Note. '}
          </span>
        )}
        {names.length > 0 ? `${names.join(', ')}: ${lowerFirst(lead)}` : lead}
      </b>{' '}
      {rest}
    </li>
  );
}

function lowerFirst(text: string): string {
  return text.charAt(0).toLowerCase() + text.slice(1);
}
