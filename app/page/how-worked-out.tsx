import type { ReactElement } from 'react';
import type { Basis } from '../../geo/answers/finding.ts';
import { Said } from './said.tsx';
import { useSession } from '../store/use-session.ts';
import { basisSaid, inputWords } from '../words/input-words.ts';

/** Method, source, inputs and confidence of an answer, folded until somebody asks. */
export function HowWorkedOut({
  basis,
  title = 'How this was worked out',
}: {
  readonly basis: Basis;
  readonly title?: string;
}): ReactElement {
  const units = useSession((state) => state.settings.units);
  const inputs = inputWords(basis.inputs, units);
  const { method, source, confidence } = basisSaid(basis, units);
  return (
    <details className="fold how">
      <summary className="narrow">{title}</summary>
      <ol className="narrow">
        {method.map((step) => (
          <li key={step}>
            <Said>{step}</Said>
          </li>
        ))}
      </ol>
      {inputs.length > 0 && (
        <dl className="rows narrow">
          {inputs.map(({ label, text }) => (
            <div className="row" key={label}>
              <dt>{label}</dt>
              <dd>{text}</dd>
            </div>
          ))}
        </dl>
      )}
      <p className="narrow">
        <Said>
          <b>How far to trust it.</b> {confidence}
        </Said>
      </p>
      <p className="narrow aside">
        <Said>Source: {source}</Said>
      </p>
    </details>
  );
}
