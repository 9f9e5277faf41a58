import { lazy, Suspense, type ReactElement } from 'react';
import { useSession } from '../store/use-session.ts';

// Seldom wanted, so in chunks of their own.
const TableDialog = lazy(() =>
  import('./table/table-dialog.tsx').then((module) => ({ default: module.TableDialog })),
);

/** What is called for in front of the page: the table of features. */
export function Desks(): ReactElement | null {
  const desk = useSession((state) => state.desk);
  if (desk !== 'table') return null;
  return (
    <Suspense>
      <TableDialog />
    </Suspense>
  );
}
