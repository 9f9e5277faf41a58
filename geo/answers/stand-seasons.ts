import { directionVerdicts, plainWind } from '../wind/direction-verdicts.ts';
import { glareWeeks, usualGlare } from '../wind/sun-glare.ts';
import { seasonHours, type SeasonHours } from '../wind/season-hours.ts';
import { seasonPaths } from '../wind/season-slope-air.ts';
import { standCoverage, type JudgedStand } from '../wind/stand-coverage.ts';
import { pooledVerdict } from '../wind/pooled-scent.ts';
import { standSeason, type HourVerdicts } from '../wind/stand-season.ts';
import type { Work } from '../work.ts';
import type { Answer } from './answers.ts';
import type { Inputs, SiteDefinition } from './definition.ts';
import type { EveningPools } from './evening-pools.ts';
import type { Finding } from './finding.ts';
import { finding } from './ground-inputs.ts';
import type { Seat, SeatReaches, Seats } from './seats.ts';
import { seatVerdicts } from './seat-verdicts.ts';
import { driftRuleOf, driftSettings } from './stand-winds.ts';
import type { StandOverSeason, StandSeasons } from './wind-answers.ts';
import { dayPartsOf, lightSettings, seasonOf, type WindInUse } from './wind-record.ts';

/** Hours that a wind must have in a season for its gap to be worth a word. */
const WORTH_HOURS = 5;

/** Every stand over the season: mornings and evenings by verdict, by wind, by week; and all together. */
export const standSeasons: SiteDefinition = {
  name: 'standSeasons',
  per: 'site',
  keep: 2,
  reads: [
    'answer:seatsOnGround',
    'answer:seatReaches',
    'answer:eveningPools',
    'answer:windRecord',
    'setting:windStations',
    ...driftSettings.map((key) => `setting:${key}` as const),
    ...lightSettings.map((key) => `setting:${key}` as const),
  ],
  *compute(inputs): Work<Answer<StandSeasons> | null> {
    const seats = inputs.answer('seatsOnGround') as Seats | null;
    const reaches = inputs.answer('seatReaches') as SeatReaches | null;
    const wind = inputs.answer('windRecord') as WindInUse | null;
    if (!seats || !reaches || !wind) return null;
    const pools = inputs.answer('eveningPools') as Answer<EveningPools> | null;
    const { longitude, latitude } = wind;
    const hours = seasonHours(wind.record, wind.sun, longitude, latitude);
    if (hours.count === 0) return null;
    const paths = seasonPaths(hours, longitude, latitude);
    const stands: Record<string, StandOverSeason> = {};
    const judged: JudgedStand[] = [];
    for (const [i, seat] of seats.seats.entries()) {
      yield { share: i / seats.seats.length, doing: 'judging the season' };
      const { id, properties } = seat.stand;
      const held = pools?.value.stands[id];
      const judgedSeat = {
        ...seat,
        seatHeightMeters: properties.seatHeightMeters,
        reach: reaches.reaches.get(id)!,
        openingTreeHeights: reaches.openings.get(id) ?? null,
        pooled: held ? pooledVerdict(held) : null,
      };
      const verdicts = seatVerdicts(inputs.settings, judgedSeat, hours, paths);
      judged.push({ id: seat.stand.id, verdicts });
      stands[seat.stand.id] = overSeason(inputs, wind, seat, reaches, hours, verdicts);
    }
    const value: StandSeasons = {
      seasons: hours.seasons.length,
      hours: hours.count,
      stands,
      coverage: standCoverage(hours, judged),
    };
    return {
      value,
      findings: findingsOf(value),
      basis: {
        method: [
          'Judges every legal morning and evening hour of the season in the record, over all its years, as the wind under the map is judged, with the pools that evening air runs into.',
          'A morning is legal light to two hours after sunrise, an evening two hours before sunset to the end of legal light, each by its own day’s sun.',
          'The table by wind adds up the same hours. What it says lies downwind is for a plain wind of {plainWindMetersPerSecond} under a grey sky; light air turns and spreads farther.',
          'Glare: the sun under 10° high within 20° of where the stand looks.',
        ],
        source:
          'Stability: Turner’s method, EPA-454/R-99-005. Verdict, legal light, glare: common practice at best; the state’s rules count.',
        inputs: {
          hours: hours.count,
          seasons: hours.seasons.length,
          plainWindMetersPerSecond: plainWind.speedMetersPerSecond,
        },
        confidence:
          'Shares to within five points where the record is five seasons long; every narrow opening less.',
      },
    };
  },
};

function overSeason(
  { settings }: Inputs,
  { longitude, latitude }: WindInUse,
  { stand, convergenceDegrees }: Seat,
  { reaches }: SeatReaches,
  hours: SeasonHours,
  verdicts: HourVerdicts,
): StandOverSeason {
  const rule = driftRuleOf(settings);
  const place = { longitude, latitude };
  const { facingDegrees } = stand.properties;
  const year = hours.seasons.at(-1)!;
  return {
    season: standSeason(hours, verdicts),
    downwind: directionVerdicts(reaches.get(stand.id)!, rule, plainWind, convergenceDegrees).map(
      ({ reached }) => reached,
    ),
    glare:
      facingDegrees === null
        ? []
        : glareWeeks(facingDegrees, place, seasonOf(settings), year, usualGlare, dayPartsOf(settings)), // prettier-ignore
  };
}

function findingsOf({ coverage, seasons, stands }: StandSeasons): Finding[] {
  const findings: Finding[] = [];
  for (const part of ['morning', 'evening'] as const) {
    const gaps = coverage[part].directions
      .map(({ hours, noStandHours }, direction) => ({
        direction,
        share: noStandHours / hours,
        hours: noStandHours / seasons,
      })) // prettier-ignore
      .filter(({ share, hours }) => share > 0.9 && hours >= WORTH_HOURS)
      .sort((a, b) => b.hours - a.hours);
    if (gaps.length > 0) {
      const values = {
        directions: gaps.map(({ direction }) => direction).join(' '),
        hours: gaps.reduce((sum, { hours }) => sum + hours, 0),
      };
      findings.push(
        part === 'morning'
          ? finding('note', 'no-stand-on-mornings', [], values)
          : finding('note', 'no-stand-on-evenings', [], values),
      );
    }
  }
  const least = coverage.dropping[0];
  if (least && Object.keys(stands).length > 1 && least.onlyHours / seasons < WORTH_HOURS) {
    findings.push(
      finding('note', 'stand-not-missed', [least.id], { hours: least.onlyHours / seasons }),
    );
  }
  return findings;
}
