import type { FeatureAnswers } from '../../../geo/answers/answers.ts';
import type { Finding } from '../../../geo/answers/finding.ts';
import { jointFindings } from '../../../geo/answers/joint-findings.ts';
import type { PlanFeature } from '../../../geo/plan/feature.ts';
import type { Kind } from '../../../geo/plan/kinds.ts';
import type { AnswersNamed } from '../../store/left-undone.ts';
import type { SectionName, Session } from '../../store/session.ts';
import { debrisQuantity } from '../../words/debris-words.ts';
import { areaQuantity, elevationQuantity, lengthQuantity, spoken } from '../../words/format.ts';

/** How a section stands: said by a symbol and by a word, never by one alone. */
export type Standing = 'empty' | 'answered' | 'look' | 'later';

export const standingWords: Readonly<Record<Standing, string>> = {
  empty: 'nothing drawn yet',
  answered: 'answered',
  look: 'needs a look',
  later: 'not answered yet',
};

export interface SectionState {
  readonly standing: Standing;
  /** The few words at the right of the section's line. */
  readonly summary: string;
}

export const sectionNames: readonly SectionName[] = [
  'ground',
  'clearing',
  'water',
  'grade',
  'debris',
  'planting',
  'stands',
  'papers',
];

export const sectionTitles: Readonly<Record<SectionName, string>> = {
  ground: 'Ground',
  clearing: 'Clearing',
  water: 'Water',
  grade: 'Grade',
  debris: 'Debris',
  planting: 'Planting',
  stands: 'Stands',
  papers: 'Papers',
};

/** What the figures and findings of a section are read from. */
export const sectionAnswers: Readonly<Record<SectionName, AnswersNamed>> = {
  ground: { site: ['ground'], features: ['plotGround', 'plantable', 'plotLowSpots'] },
  clearing: { site: ['debris', 'clearingWork'], features: ['timberDebris'] },
  water: {
    site: [
      'lowSpots',
      'storm',
      'waysOut',
      'notchFlows',
      'notchWork',
      'culvertQuestions',
      'spotsSure',
    ],
    features: ['plotStorm', 'damming'],
  },
  grade: {},
  debris: {
    site: ['debris'],
    features: ['bermLine', 'bermHolds', 'bermGaps', 'heapHolds', 'burning', 'clearingWays'],
  },
  planting: {},
  stands: {
    site: ['wind', 'standWinds', 'standSeasons'],
    features: ['standGround', 'standShots', 'seenByHeight'],
  },
  papers: {},
};

const byName = new Intl.Collator('en-US', { numeric: true });

/** Kept by the plan they were sorted from: this is asked at every change of anything. */
const sorted = new WeakMap<Session['features'], Map<Kind, readonly PlanFeature[]>>();

/** Features of one kind in the order of their names, hidden ones too; the same list while it holds. */
export function ofKind<K extends Kind>(
  features: Session['features'],
  kind: K,
): readonly PlanFeature<K>[] {
  const kinds = sorted.get(features) ?? new Map<Kind, readonly PlanFeature[]>();
  sorted.set(features, kinds);
  const list =
    kinds.get(kind) ??
    Object.values(features)
      .filter((feature) => feature.kind === kind)
      .sort((a, b) => byName.compare(a.name, b.name));
  kinds.set(kind, list);
  return list as readonly PlanFeature<K>[];
}

/** What the lines of the sections are made of. */
type Read = Pick<Session, 'site' | 'answers' | 'features' | 'settings'>;

/** The newest answer for each section, given again while what it was read from is the same. */
function remembered<T>(
  read: (name: SectionName, state: Session) => T,
): (name: SectionName, state: Session) => T {
  const last = new Map<SectionName, { readonly of: Read; readonly value: T }>();
  return (name, state) => {
    const kept = last.get(name);
    if (
      kept?.of.site === state.site &&
      kept.of.answers === state.answers &&
      kept.of.features === state.features &&
      kept.of.settings === state.settings
    ) {
      return kept.value;
    }
    const { site, answers, features, settings } = state;
    const value = read(name, state);
    last.set(name, { of: { site, answers, features, settings }, value });
    return value;
  };
}

/** What the whole job's debris says of the clearing itself. */
const CLEARING_CODE = 'blocks-not-tallied';

/** Every finding that belongs to a section, in the order of its features. */
export const findingsOf = remembered((name, state): readonly Finding[] => {
  const { site, answers, features } = state;
  const of = <K extends Kind>(kind: K, answer: keyof FeatureAnswers) =>
    ofKind(features, kind).flatMap((feature) => answers[feature.id]?.[answer]?.findings ?? []);
  if (name === 'ground') {
    return [
      ...(site.ground?.findings ?? []),
      ...of('plot', 'plotGround'),
      ...of('plot', 'plantable'),
      ...of('plot', 'plotLowSpots'),
    ];
  }
  if (name === 'water') {
    return [
      ...(site.storm?.findings ?? []),
      ...of('plot', 'plotStorm'),
      ...(site.waysOut?.findings ?? []),
      ...(site.culvertQuestions?.findings ?? []),
      ...(site.notchFlows?.findings ?? []),
      ...(site.spotsSure?.findings ?? []),
      ...(site.lowSpots?.findings ?? []),
      ...(['berm', 'heap', 'structure', 'lane'] as const).flatMap((kind) => of(kind, 'damming')),
      ...(['outlet', 'culvert', 'ditch'] as const).flatMap((kind) => of(kind, 'shapeMeasure')),
    ];
  }
  if (name === 'clearing') {
    const general = (site.debris?.findings ?? []).filter(({ code }) => code === CLEARING_CODE);
    return [
      ...general,
      ...(site.clearingWork?.findings ?? []),
      ...of('timber-block', 'timberDebris'),
    ];
  }
  if (name === 'debris') {
    const general = (site.debris?.findings ?? []).filter(({ code }) => code !== CLEARING_CODE);
    return [
      ...general,
      ...of('berm', 'bermHolds'),
      ...of('berm', 'bermGaps'),
      ...of('berm', 'bermLine'),
      ...of('heap', 'heapHolds'),
      ...(['berm', 'heap'] as const).flatMap((kind) => of(kind, 'burning')),
    ];
  }
  if (name === 'stands')
    return [
      ...jointFindings(of('stand', 'standShots')),
      ...of('stand', 'seenByHeight'),
      ...(site.wind?.findings ?? []),
      ...(site.standWinds?.findings ?? []),
      ...(site.standSeasons?.findings ?? []),
      ...of('stand', 'standGround'),
    ];
  return [];
});

export const sectionState = remembered((name, state): SectionState => {
  const summary = summaries[name]?.(state);
  if (!summary) return { standing: 'later', summary: '' };
  if (summary.standing !== 'answered') return summary;
  const look = findingsOf(name, state).some((finding) => finding.level !== 'note');
  return look ? { ...summary, standing: 'look' } : summary;
});

const summaries: Partial<Record<SectionName, (state: Session) => SectionState>> = {
  ground: (state) => {
    const { units } = state.settings;
    const plots = ofKind(state.features, 'plot');
    const areas = plots.map((plot) => state.answers[plot.id]?.plotGround?.value.areaSquareMeters);
    const known = areas.filter((area) => area !== undefined);
    if (plots.length > 0) {
      const total = known.reduce((sum, area) => sum + area, 0);
      const acres = known.length === plots.length ? `, ${spoken(areaQuantity(total, units))}` : '';
      return {
        standing: known.length === 0 ? 'empty' : 'answered',
        summary: `${count(plots.length, 'plot', 'plots')}${acres}`,
      };
    }
    const site = state.site.ground?.value;
    return {
      standing: 'empty',
      summary: site ? `${spoken(areaQuantity(site.areaSquareMeters, units))} open` : '',
    };
  },
  water: (state) => {
    const spots = state.site.lowSpots?.value;
    if (!spots) return { standing: 'empty', summary: '' };
    const storm = state.site.storm?.value;
    const summary = storm
      ? storm.pools.length === 0
        ? 'no low spots listed'
        : `${count(storm.pools.filter((pool) => pool.areaSquareMeters > 0).length, 'low spot', 'low spots')} with water`
      : count(spots.lowSpots.length, 'low spot', 'low spots');
    return { standing: 'answered', summary };
  },
  clearing: (state) => {
    const debris = state.site.debris?.value;
    if (!debris || debris.blockCount === 0) return { standing: 'empty', summary: '' };
    const { likely } = debris.looseCubicMeters;
    return {
      standing: 'answered',
      summary: `${spoken(debrisQuantity(likely, state.settings.units))} loose`,
    };
  },
  debris: (state) => {
    const berms = ofKind(state.features, 'berm');
    const heaps = ofKind(state.features, 'heap').length;
    const piles = heaps > 0 ? [count(heaps, 'brush pile', 'brush piles')] : [];
    if (berms.length === 0) {
      return { standing: heaps > 0 ? 'answered' : 'empty', summary: piles.join() };
    }
    const lengths = berms.map((berm) => state.answers[berm.id]?.bermLine?.value.lengthMeters ?? 0);
    const total = lengths.reduce((sum, length) => sum + length, 0);
    return {
      standing: total > 0 || heaps > 0 ? 'answered' : 'empty',
      summary: [`berm ${spoken(lengthQuantity(total, state.settings.units))}`, ...piles].join(', '),
    };
  },
  stands: (state) => {
    const stands = ofKind(state.features, 'stand');
    if (stands.length === 0) return { standing: 'empty', summary: '' };
    const first = state.answers[stands[0]!.id]?.standGround?.value.elevationMeters ?? null;
    const alone = stands.length === 1 && first !== null;
    return {
      standing: 'answered',
      summary: alone
        ? `${stands[0]!.name} at ${spoken(elevationQuantity(first, errorOf(state), state.settings.units))}`
        : count(stands.length, 'stand', 'stands'),
    };
  },
};

/** One standard error of a height of the ground in use, metres; null while there is none. */
export function errorOf(state: Session): number | null {
  return state.site.ground?.value.survey.verticalErrorMeters ?? null;
}

function count(number: number, one: string, many: string): string {
  return number === 0 ? `no ${many}` : `${number} ${number === 1 ? one : many}`;
}
