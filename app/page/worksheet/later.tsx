import type { ReactElement } from 'react';
import type { SectionName } from '../../store/session.ts';
import { laterWords } from '../../words/later-words.ts';
import { Said } from '../said.tsx';

/** What this version does not answer yet, said before anybody looks for it. */
export function Later({ name }: { readonly name: SectionName }): ReactElement | null {
  const later = laterWords[name];
  if (!later) return null;
  return (
    <div className="later narrow">
      <p>
        <Said>
          <b>Not in this version.</b> {later.answers}
        </Said>
      </p>
      <p className="aside">
        <Said>It will need {later.needs.join('; ')}.</Said>
      </p>
    </div>
  );
}
