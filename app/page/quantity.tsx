import type { ReactElement } from 'react';
import type { Quantity } from '../words/format.ts';

/** A figure with its unit in a lighter weight; "about" where the survey's error moves it. */
export function Figure({ of }: { readonly of: Quantity }): ReactElement {
  return (
    <span className="quantity">
      {of.about && <span className="about">about </span>}
      <span className="whole">
        <b>{of.text}</b>
        {of.unit && <span className="unit"> {of.unit}</span>}
      </span>
    </span>
  );
}
