import type { ReactElement, ReactNode } from 'react';
import { Said } from './said.tsx';

/** One line of a table of numbers: what it is at the left, the figure at the right. */
export function Row({
  label,
  children,
}: {
  readonly label: ReactNode;
  readonly children: ReactNode;
}): ReactElement {
  return (
    <div className="row">
      <dt>
        <Said>{label}</Said>
      </dt>
      <dd>
        <Said>{children}</Said>
      </dd>
    </div>
  );
}

export function Rows({ children }: { readonly children: ReactNode }): ReactElement {
  return <dl className="rows narrow">{children}</dl>;
}
