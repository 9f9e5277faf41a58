import { useMemo, useState, type ReactElement } from 'react';
import type { PlanFeature } from '../../../geo/plan/feature.ts';
import { boundsOfFeatures } from '../../services/bounds.ts';
import { useSession } from '../../store/use-session.ts';
import { ActionButton } from '../action-button.tsx';
import { Dialog } from '../opening/dialog.tsx';
import { useServices } from '../services.ts';
import { FeatureTable } from './feature-table.tsx';
import { tableRows, type SortBy, type TableOrder } from './table-model.ts';
import './table.css';

const columns: readonly (readonly [SortBy | null, string])[] = [
  [null, 'Pick'],
  ['name', 'Name'],
  ['kind', 'Kind'],
  ['size', 'Size'],
  [null, 'What it is'],
  [null, 'What to do'],
];

/** Everything drawn, line by line. */
export function TableDialog(): ReactElement {
  const services = useServices();
  const features = useSession((state) => state.features);
  const answers = useSession((state) => state.answers);
  const [filter, setFilter] = useState('');
  const [order, setOrder] = useState<TableOrder>({ by: 'kind', falling: false });
  const rows = useMemo(
    () => tableRows(features, answers, filter, order),
    [features, answers, filter, order],
  );
  const all = Object.keys(features).length;
  const show = useMemo(
    () =>
      (feature: PlanFeature): void => {
        const bounds = boundsOfFeatures([feature]);
        services.leaveDesk();
        services.select(feature.id);
        if (bounds) services.keepInSight(bounds);
      },
    [services],
  );
  return (
    <Dialog title="Table of everything drawn" onLeave={() => services.leaveDesk()}>
      <div className="feature-table">
        <div className="table-head">
          <input
            className="boxed"
            type="search"
            aria-label="Find by name, kind or what it is"
            placeholder="Find by name, kind or what it is"
            value={filter}
            onChange={(event) => setFilter(event.target.value)}
          />
          <p className="narrow aside" role="status">
            {rows.length === all
              ? `${all} drawn`
              : rows.length === 0
                ? 'Nothing drawn holds these words.'
                : `${rows.length} of ${all}`}
          </p>
        </div>
        {all === 0 ? (
          <p>Nothing is drawn yet. Draw a plot, a berm or a stand, and it is listed here.</p>
        ) : (
          <div
            role="table"
            aria-label="Everything drawn"
            aria-rowcount={rows.length + 1}
            className="table-frame"
          >
            <div role="rowgroup" className="table-columns narrow">
              <div role="row" aria-rowindex={1} className="table-header">
                {columns.map(([by, words]) => (
                  <Column key={words} by={by} words={words} order={order} onOrder={setOrder} />
                ))}
              </div>
            </div>
            <FeatureTable rows={rows} onShow={show} />
          </div>
        )}
        <div className="tools">
          <button type="button" className="button lead" onClick={() => services.leaveDesk()}>
            Close
          </button>
          <ActionButton name="undo" />
          <ActionButton name="redo" />
          <Picked />
        </div>
      </div>
    </Dialog>
  );
}

/** What can be done to the rows that are picked. */
function Picked(): ReactElement | null {
  const count = useSession((state) =>
    state.selectedId === null ? 0 : 1 + state.alsoSelected.length,
  );
  const services = useServices();
  if (count === 0) return null;
  return (
    <div className="table-picked" role="group" aria-label={`${count} picked`}>
      <span className="narrow">{count} picked:</span>
      <ActionButton name="lock" />
      <ActionButton name="hide" />
      <ActionButton name="delete" />
      <button type="button" className="button plain" onClick={() => services.select(null)}>
        Pick none
      </button>
    </div>
  );
}

function Column({
  by,
  words,
  order,
  onOrder,
}: {
  readonly by: SortBy | null;
  readonly words: string;
  readonly order: TableOrder;
  readonly onOrder: (order: TableOrder) => void;
}): ReactElement {
  if (by === null) {
    return (
      <span role="columnheader">
        <span className={words === 'Pick' ? 'out-of-sight' : ''}>{words}</span>
      </span>
    );
  }
  const isIt = order.by === by;
  return (
    <span
      role="columnheader"
      aria-sort={isIt ? (order.falling ? 'descending' : 'ascending') : 'none'}
    >
      <button
        type="button"
        className="table-sort"
        onClick={() => onOrder({ by, falling: isIt ? !order.falling : by === 'size' })}
      >
        {words} <span aria-hidden="true">{isIt ? (order.falling ? '↓' : '↑') : ''}</span>
      </button>
    </span>
  );
}
