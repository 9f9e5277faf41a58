import { FEWEST_SEASONS, recordLength } from '../wind/record-length.ts';
import { EVENING, MIDDAY, MORNING } from '../wind/sun-parts.ts';
import { SECTORS } from '../wind/sectors.ts';
import { sectorTotal, windRose, type RoseChoice } from '../wind/wind-rose.ts';
import type { Answer } from './answers.ts';
import type { SiteDefinition } from './definition.ts';
import type { Finding } from './finding.ts';
import { finding } from './ground-inputs.ts';
import type { RoseAnswer, SiteWind } from './wind-answers.ts';
import type { WindInUse } from './wind-record.ts';

const legal = [MORNING, MIDDAY, EVENING];

/** What the wind does here in the season, at dawn, midday and dusk, and by month. */
export const siteWind: SiteDefinition = {
  name: 'wind',
  per: 'site',
  reads: ['answer:windRecord', 'setting:windStations'],
  compute(inputs): { done: Answer<SiteWind | null> | null } {
    const { windStations } = inputs.settings;
    if (windStations.length === 0) return { done: null };
    const wind = inputs.answer('windRecord') as WindInUse | null;
    if (!wind) return { done: given(null, [finding('caution', 'wind-record-unread')]) };
    const { record, sun, station } = wind;
    const rose = (choice: RoseChoice) => roseOf(wind, choice);
    const months = [...new Set(sun.month)].sort((a, b) => a - b);
    const value: SiteWind = {
      stationId: station.id,
      stationName: station.name,
      firstSecond: record.timeSeconds[0] ?? 0,
      lastSecond: record.timeSeconds[record.count - 1] ?? 0,
      rows: record.count,
      parts: {
        dawn: rose({ parts: [MORNING], inSeasonOnly: true }),
        midday: rose({ parts: [MIDDAY], inSeasonOnly: true }),
        dusk: rose({ parts: [EVENING], inSeasonOnly: true }),
      },
      months: months.map((month) => ({ month, rose: rose({ months: [month], parts: legal }) })),
      length: recordLength(sun),
      stepDegrees: windRose(record, sun).stepDegrees,
    };
    return { done: given(value, findingsOf(value)) };
  },
};

function roseOf({ record, sun }: WindInUse, choice: RoseChoice): RoseAnswer {
  const rose = windRose(record, sun, choice);
  return {
    hours: rose.hours,
    calmHours: rose.calmHours,
    variableHours: rose.variableHours,
    directionHours: Array.from({ length: SECTORS }, (_, sector) => sectorTotal(rose, sector)),
    prevailing: rose.prevailing,
    meanMetersPerSecond: rose.mean.scalarMetersPerSecond,
    steadiness: rose.mean.steadiness,
  };
}

function findingsOf({ length }: SiteWind): Finding[] {
  const findings: Finding[] = [];
  if (length.isShort) {
    findings.push(
      finding('caution', 'wind-record-short', [], {
        seasons: length.wholeSeasons,
        fewest: FEWEST_SEASONS,
      }),
    );
  }
  return findings;
}

function given(value: SiteWind | null, findings: readonly Finding[]): Answer<SiteWind | null> {
  return {
    value,
    findings,
    basis: {
      method: [
        'Takes one row an hour of the station’s record, in universal time and degrees true.',
        'Sorts hours by minutes from their own day’s sunrise and sunset: dawn is legal light to two hours after sunrise, dusk two hours before sunset to its end.',
        'Counts 16 directions; calm and variable stand apart; a record in tens of degrees is shared out between directions.',
      ],
      source:
        'Record layouts as published; sun by the solar position algorithm, Reda & Andreas 2004, NREL/TP-560-34302. Two hours, legal light: common practice, the state’s rule counts.',
      inputs: {},
      confidence:
        'The station’s wind, not the seat’s: woods and hills turn it. Five seasons or more say what is usual.',
    },
  };
}
