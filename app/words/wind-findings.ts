import type { Writer } from './findings.ts';

/** Sentences of the findings about wind and stands. */
export const windWriters: Readonly<Record<string, Writer>> = {
  'wind-record-unread': () => ({
    lead: 'Open the wind record again.',
    rest: 'The one in the plan cannot be read, or nothing says where the site is.',
  }),
  'wind-record-short': (values) => ({
    lead: 'Get a longer wind record.',
    rest: `It covers ${values['seasons'] === 1 ? 'one whole season' : `${typeof values['seasons'] === 'number' ? values['seasons'] : 'too few'} whole seasons`}; under ${typeof values['fewest'] === 'number' ? values['fewest'] : 'three'} a single odd year decides.`,
  }),
};
