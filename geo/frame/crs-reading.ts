import type { Projection } from './projection.ts';
import type { Realisation } from './realisation.ts';

/** What a definition says before it is matched with the table. */
export type CrsReading =
  | { readonly kind: 'code'; readonly epsg: number }
  | { readonly kind: 'web-mercator' }
  | { readonly kind: 'geographic'; readonly epsg: number | null; readonly realisation: Realisation }
  | {
      readonly kind: 'projected';
      readonly epsg: number | null;
      readonly name: string;
      readonly realisation: Realisation;
      readonly projection: Projection;
    };
