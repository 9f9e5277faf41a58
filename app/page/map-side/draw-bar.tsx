import type { ReactElement } from 'react';
import type { PlanFeature } from '../../../geo/plan/feature.ts';
import { useSession } from '../../store/use-session.ts';
import {
  areaQuantity,
  depthQuantity,
  elevationQuantity,
  lengthQuantity,
  slopeQuantity,
} from '../../words/format.ts';
import { toolFor } from '../../words/draw-tools.ts';
import { featureSize, sizeQuantity } from '../../words/feature-size.ts';
import { kindWords } from '../../words/kind-words.ts';
import { outlineTrouble } from '../../words/outline-words.ts';
import { ActionButton } from '../action-button.tsx';
import { Figure } from '../quantity.tsx';
import { errorOf } from '../worksheet/section-states.ts';
import './drawing.css';
import { HandTools, LegNumbers } from './hand-tools.tsx';

/** While a shape is in hand: what to do, its numbers as they are now, and the two ways out. */
export function DrawBar(): ReactElement | null {
  const drawing = useSession((state) => state.drawing);
  const drawingAs = useSession((state) => state.drawingAs);
  const edited = useSession((state) =>
    state.editingId === null ? undefined : state.features[state.editingId],
  );
  const draft = useSession((state) => state.draft);
  const placed = useSession((state) => state.placed);
  const kind = drawing ?? edited?.kind;
  if (!kind) return null;
  const how = drawing
    ? toolFor(drawing, drawingAs ?? undefined).how
    : edited?.geometry.type === 'Point'
      ? 'Drag it, or move it with the arrow keys.'
      : 'Drag a corner to move it; drag a middle to add one.';
  const shown = draft ?? edited;
  return (
    <section
      className="draw-bar"
      data-corner
      data-begun={placed > 1}
      aria-label={`Drawing: ${kindWords[kind].one}`}
    >
      <div className="draw-head">
        <p>
          <b>{drawing ? kindWords[kind].one : edited?.name || kindWords[kind].one}</b>{' '}
          <span className="aside narrow draw-how">{how}</span>
        </p>
        <p className="narrow draw-numbers" aria-live="off">
          {shown && <LiveNumbers feature={shown} />}
          <LegNumbers />
          {drawing && <PlacedCount />}
        </p>
      </div>
      <div className="draw-rows">
        <div className="tools">
          <ActionButton name="finish" look="lead" />
          {drawing && drawingAs !== 'Point' && (
            <ActionButton name="undo">Last point back</ActionButton>
          )}
          {edited && edited.geometry.type !== 'Point' && (
            <>
              <ActionButton name="next-corner" />
              <ActionButton name="add-corner" />
            </>
          )}
          <ActionButton name="cancel" />
        </div>
        <HandTools />
      </div>
    </section>
  );
}

function PlacedCount(): ReactElement | null {
  const placed = useSession((state) => state.placed);
  const isPoint = useSession((state) => state.drawingAs === 'Point');
  if (isPoint) return null;
  return (
    <span className="aside" data-testid="placed">
      {placed === 0 ? 'no points yet' : `${placed} ${placed === 1 ? 'point' : 'points'}`}
    </span>
  );
}

/** Outlines of more corners are not looked through at every move. */
const mostCorners = 500;

/** Why an outline in hand has no numbers; nothing while they are only on their way. */
function WithoutNumbers({ feature }: { readonly feature: PlanFeature }): ReactElement | null {
  const { geometry } = feature;
  const isShort = geometry.type === 'Polygon' && geometry.coordinates[0]!.length <= mostCorners;
  const trouble = isShort ? outlineTrouble(feature) : null;
  if (trouble?.problem.code !== 'outline-crosses-itself') return null;
  return <b>crosses itself</b>;
}

function LiveNumbers({ feature }: { readonly feature: PlanFeature }): ReactElement | null {
  const answers = useSession((state) => state.answers[feature.id]);
  const units = useSession((state) => state.settings.units);
  const error = useSession(errorOf);
  const plot = answers?.plotGround?.value;
  const berm = answers?.bermLine?.value;
  const stand = answers?.standGround?.value;
  if (plot) {
    const deepest = answers?.plotLowSpots?.value.lowSpots.reduce<number | null>(
      (most, spot) => Math.max(most ?? 0, spot.insideMaxDepthMeters),
      null,
    );
    return (
      <>
        <span data-testid="live-area">
          <Figure of={areaQuantity(plot.areaSquareMeters, units)} />
        </span>
        {plot.terrain && (
          <span>
            slope <Figure of={slopeQuantity(plot.terrain.medianSlope)} />
          </span>
        )}
        {typeof deepest === 'number' && (
          <span>
            low spot <Figure of={depthQuantity(deepest, error, units)} />
          </span>
        )}
      </>
    );
  }
  if (berm) {
    return (
      <span>
        <Figure of={lengthQuantity(berm.lengthMeters, units)} /> long
      </span>
    );
  }
  if (stand) {
    return (
      <span>
        ground at <Figure of={elevationQuantity(stand.elevationMeters, error, units)} />
      </span>
    );
  }
  const size = featureSize(answers);
  if (!size) return <WithoutNumbers feature={feature} />;
  if (size.value === null) return null;
  return (
    <span>
      {size.measure === 'elevation' && 'ground at '}
      <Figure of={sizeQuantity(size, error, units)} />
      {size.measure === 'length' && ' long'}
    </span>
  );
}
