import type { SectionName } from '../store/session.ts';

/** What a section will answer and what it needs for it, while this version does not answer yet. */
interface Later {
  readonly answers: string;
  readonly needs: readonly string[];
}

export const laterWords: Readonly<Partial<Record<SectionName, Later>>> = {
  grade: {
    answers: 'Cut and fill by stake, the way-out for the water, and the yards of dirt to move.',
    needs: ['a plot on open ground', 'which way it shall shed, and where it may let go'],
  },
  planting: {
    answers: 'Lime, fertilizer and seed in whole bags, and what the sprayer tank takes.',
    needs: ['a soil test for each plot', 'the acres left to plant beside the debris'],
  },
  papers: {
    answers: 'Quote, cut sheet, order list, spray-mix card and hunt cards at true scale.',
    needs: ['the sections above, answered'],
  },
};
