import type { ReactElement } from 'react';
import { cautions, type CautionName } from '../../words/cautions.ts';
import { Said } from '../said.tsx';

/** Short cautions that stand where a machine, a digging or a climb touches what is shown. */
export function CautionLines({ names }: { readonly names: readonly CautionName[] }): ReactElement {
  return (
    <ul className="cautions narrow">
      {names.map((name) => (
        <li key={name}>
          <Said>
            {cautions[name].text} <span className="ask">Ask {cautions[name].ask}.</span>
          </Said>
        </li>
      ))}
    </ul>
  );
}
