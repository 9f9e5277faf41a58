import type { ReactElement } from 'react';
import type { CulvertQuestion, CulvertQuestions } from '../../../geo/answers/notch-answers.ts';
import { useSession } from '../../store/use-session.ts';
import { CheckField } from '../fields.tsx';
import { Said } from '../said.tsx';
import { useServices } from '../services.ts';

/** Asked before a cut: a road in the water's way may have a pipe through it. */
export function CulvertLines({ id }: { readonly id: string }): ReactElement | null {
  const question = useSession((state) => questionOf(state.site.culvertQuestions?.value, id));
  const services = useServices();
  if (!question) return null;
  const road = question.roadName || 'the road';
  if (question.state === 'drawn') {
    return (
      <p className="narrow">
        <Said>
          A culvert is drawn under {road}. Let the rain fall on what is drawn to see what it does.
        </Said>
      </p>
    );
  }
  return (
    <>
      {question.state === 'ask' && (
        <>
          <p className="narrow">
            <Said>
              <b>Is there a culvert here, under {road}?</b> The survey sees the fill, not the pipe.
            </Said>
          </p>
          <button
            type="button"
            className="button"
            onClick={() => {
              services.showPlace(question.at);
              services.startDrawing('culvert');
            }}
          >
            Draw the culvert
          </button>
        </>
      )}
      <CheckField
        label={`There is no culvert under ${road} here`}
        value={question.state === 'none-there'}
        onValue={(yes) => services.setNoCulvert(question.at, yes)}
      />
    </>
  );
}

export function questionOf(
  answer: CulvertQuestions | undefined,
  id: string,
): CulvertQuestion | undefined {
  return answer?.questions.find((one) => one.id === id);
}
