import type { ReactElement, ReactNode } from 'react';

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
      <dt>{label}</dt>
      <dd>{children}</dd>
    </div>
  );
}

export function Rows({ children }: { readonly children: ReactNode }): ReactElement {
  return <dl className="rows narrow">{children}</dl>;
}
