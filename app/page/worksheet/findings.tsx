import type { ReactElement } from 'react';
import type { Finding } from '../../../geo/answers/finding.ts';
import { useSession } from '../../store/use-session.ts';
import { inOrder, sentenceOf } from '../../words/findings.ts';

const levelWords = { stop: 'Stop.', caution: 'Caution.', note: 'Note.' } as const;

/** What the answers want said, stops first; each level has its own bar and its own word. */
export function Findings({ of }: { readonly of: readonly Finding[] }): ReactElement | null {
  const units = useSession((state) => state.settings.units);
  const features = useSession((state) => state.features);
  if (of.length === 0) return null;
  return (
    <ul className="findings">
      {inOrder(of).map((finding) => {
        const sentence = sentenceOf(finding, units);
        const names = finding.about.map((id) => features[id]?.name).filter(Boolean);
        return (
          <li
            key={`${finding.code} ${finding.about.join(' ')}`}
            className={`finding ${finding.level}`}
          >
            <b>
              {finding.level === 'stop' && `${levelWords.stop} `}
              <span className="out-of-sight">
                {finding.level !== 'stop' && levelWords[finding.level]}
              </span>
              {names.length > 0 && `${names.join(', ')}: `}
              {names.length > 0 ? lowerFirst(sentence.lead) : sentence.lead}
            </b>{' '}
            {sentence.rest}
          </li>
        );
      })}
    </ul>
  );
}

function lowerFirst(text: string): string {
  return text.charAt(0).toLowerCase() + text.slice(1);
}
