import type { ReactElement } from 'react';
import type { Traverse } from '../../../geo/plan/construct/traverse.ts';
import type { DeedDraft } from '../../store/deed.ts';
import { useSession } from '../../store/use-session.ts';
import {
  closureJudgement,
  missWords,
  noMissMeters,
  ratioWords,
  slipWords,
} from '../../words/deed-words.ts';
import { areaQuantity } from '../../words/format.ts';
import { deedLength } from '../../words/survey-bearing.ts';
import { ChoiceField } from '../fields.tsx';
import { Figure } from '../quantity.tsx';
import { Row, Rows } from '../row.tsx';
import { useServices } from '../services.ts';
import type { DeedFigure } from './deed-figure.ts';

/** How well the calls come round, in numbers and in words, and what is done with the rest. */
export function Closure({
  figure: { count, slips, shape, stopsAt },
  traverse,
  closes,
}: {
  readonly figure: DeedFigure;
  readonly traverse: Traverse;
  readonly closes: DeedDraft['closes'];
}): ReactElement {
  const services = useServices();
  const units = useSession((state) => state.settings.units);
  const { lead, rest, level } = closureJudgement(traverse, count);
  const isRound = count > 2;
  const hasMiss = traverse.closure.distanceMeters >= noMissMeters;
  const area = shape?.areaSquareMeters ?? traverse.areaSquareMeters;
  return (
    <section className="deed-closure" aria-label="Closure">
      <Rows>
        <Row label={`${count} ${count === 1 ? 'call' : 'calls'}, together`}>
          <b>{deedLength(traverse.perimeterMeters, units)}</b>
        </Row>
        <Row label="Left to go to the start">
          <b>{missWords(traverse, units)}</b>
        </Row>
        {isRound && (
          <>
            <Row label="Closure">
              <b>{ratioWords(traverse.closure)}</b>
            </Row>
            <Row label="Area">
              <Figure of={areaQuantity(area, units)} />
            </Row>
          </>
        )}
      </Rows>
      {stopsAt === null && (
        <p className={`finding ${level}`} aria-live="polite">
          <b>{lead}</b> {rest} {slipWords(slips)}
        </p>
      )}
      {isRound && hasMiss && (
        <ChoiceField
          label="The last corner"
          value={closes}
          options={[
            ['straight', 'as called, a line closes it'],
            ['balanced', 'compass rule shares the miss'],
          ]}
          onValue={(next) =>
            services.setDeed({ closes: next === 'balanced' ? 'balanced' : 'straight' })
          }
        />
      )}
    </section>
  );
}
