import type { ReactElement } from 'react';
import { shownKey } from '../../actions/keys.ts';
import { actions } from '../../actions/registry.ts';
import { useSession } from '../../store/use-session.ts';
import { CheckField } from '../fields.tsx';
import { keysHere } from '../keys-here.ts';
import { Said } from '../said.tsx';
import { useServices } from '../services.ts';

/** What the keys do, and whether letters alone may do anything: speech and shaky hands hit them. */
export function KeyFold(): ReactElement {
  const letterKeys = useSession((state) => state.letterKeys);
  const services = useServices();
  const keyed = actions.flatMap((action) => {
    const key = shownKey(action, letterKeys);
    return key ? [{ ...action, key }] : [];
  });
  return (
    <details className="fold key-fold">
      <summary className="narrow">Keys</summary>
      <CheckField
        label="Letters and digits alone are shortcuts"
        value={letterKeys}
        onValue={(on) => services.setLetterKeys(on)}
      />
      <p className="narrow aside">Kept in this browser, not with the plan.</p>
      <ul className="key-list narrow">
        {keyed.map(({ name, label, key }) => (
          <li key={name}>
            <Said>
              <span>{label}</span>
              <kbd>{keysHere(key)}</kbd>
            </Said>
          </li>
        ))}
      </ul>
    </details>
  );
}
