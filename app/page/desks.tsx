import { lazy, Suspense, type ReactElement } from 'react';
import { useSession } from '../store/use-session.ts';
import { ErrorBoundary } from './error-boundary.tsx';

// Seldom wanted, so in chunks of their own.
const TableDialog = lazy(() =>
  import('./table/table-dialog.tsx').then((module) => ({ default: module.TableDialog })),
);

const WaysDialog = lazy(() =>
  import('./ways/ways-dialog.tsx').then((module) => ({ default: module.WaysDialog })),
);

const DeedPanel = lazy(() =>
  import('./bounds/deed-panel.tsx').then((module) => ({ default: module.DeedPanel })),
);

/** What is called for in front of the page: the table of features, the calls of a deed. */
export function Desks(): ReactElement | null {
  const desk = useSession((state) => state.desk);
  if (desk !== 'table' && desk !== 'metes' && desk !== 'ways') return null;
  return (
    <Suspense>
      {desk === 'table' && <TableDialog />}
      {desk === 'ways' && <WaysDialog />}
      {desk === 'metes' && (
        <ErrorBoundary name="The deed calls">
          <DeedPanel />
        </ErrorBoundary>
      )}
    </Suspense>
  );
}
