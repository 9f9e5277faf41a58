import type { WindStation } from '../../plan/wind-record.ts';
import type { Problem } from '../../result.ts';
import type { ByteSource } from '../byte-source.ts';
import { GzipError, gzipSource, isGzip } from '../gzip-source.ts';
import type { Reading } from '../opening.ts';
import type { WindDecoder } from './decoder.ts';
import { decoderFor, noTime } from './decoder-for.ts';
import { readRows, type ReadStation, type RowsRead } from './read-rows.ts';
import { sniffWind } from './sniff-wind.ts';
import type { OpenedWind, WindChoices, WindLayout } from './wind-opening.ts';

const HEAD_BYTES = 1 << 16;
/** Directions of a record in tens of degrees never pass this. */
const MOST_TENS = 36;
/** As few rows or directions say nothing of the unit. */
const FEWEST_ROWS = 24;
const FEWEST_DIRECTIONS = 6;

/**
 * Opens a record of wind in any of the layouts of trade notes section 3.5, told by content, or any
 * table by chosen columns: UTC, degrees true, m/s, one row an hour, with a count of everything that
 * was left out. What the file does not say is asked: the columns, the unit of speed, tens of
 * degrees, the clock (local standard time without a zone). A gzip file is unpacked as it is read. Read in pieces of 1 MB; of 5 million rows
 * only typed arrays are held. Never throws but what `source.read` throws.
 */
export async function openWind(
  source: ByteSource,
  choices: WindChoices = {},
  reading: Reading = {},
): Promise<OpenedWind> {
  if (!isGzip(await source.read(0, 3))) return openText(source, choices, reading);
  try {
    return await openText(await gzipSource(source), choices, reading);
  } catch (error) {
    if (!(error instanceof GzipError)) throw error;
    return refused({
      code: 'wind-gzip-damaged',
      what: 'The packed file is damaged, cut off, or several files in one.',
      wayOut: 'Download it again, or unpack it and pick the text inside.',
      where: source.name,
    });
  }
}

async function openText(
  source: ByteSource,
  choices: WindChoices,
  reading: Reading,
): Promise<OpenedWind> {
  const bytes = await source.read(0, HEAD_BYTES);
  const text = new TextDecoder('utf-8').decode(bytes);
  // The last line may be cut.
  const end = bytes.length < source.size ? text.lastIndexOf('\n') : text.length;
  const head = sniffWind(source.name, text.slice(0, Math.max(0, end)));
  if (!head.ok) return refused(head.problem);
  const chosen = decoderFor(source.name, head.value, choices);
  if (chosen.kind !== 'ready') return chosen;
  const { decoder, notes } = chosen;
  const rows = await readRows(source, decoder, head.value.firstDataLine, choices, reading);
  if (!rows.ok) return refused(rows.problem);
  return opened(source, rows.value, head.value.layout, decoder, choices, [...notes]);
}

function opened(
  source: ByteSource,
  read: RowsRead,
  layout: WindLayout,
  decoder: WindDecoder,
  choices: WindChoices,
  notes: string[],
): OpenedWind {
  if (read.needsOffset) {
    const why =
      decoder.clock === 'local'
        ? 'The record is in the station’s standard time and does not say which.'
        : 'The record does not say by which clock its times are.';
    return { kind: 'ask', question: 'utc-offset', why, layout };
  }
  const stations = [...read.stations.values()];
  const tens = choices.directionUnit === undefined && stations.some(looksLikeTens);
  if (tens) {
    const why = 'No direction in the record is above 36: they may be tens of degrees.';
    return { kind: 'ask', question: 'direction-unit', why, layout };
  }
  const finished = stations.map(finishedStation).filter((station) => station.tally.rows > 0);
  const kept = finished.filter((station) => station.record.count > 0);
  if (kept.length === 0) return refused(nothingKept(source, finished));
  const off = finished.reduce((sum, { tally }) => sum + tally.outOfRange, 0);
  const good = kept.reduce((sum, { tally }) => sum + tally.kept, 0);
  if (off > good) {
    const what = `Of the record, ${off} rows have a direction above 360 degrees or an impossible speed.`;
    const wayOut = 'Check which column is the direction and the unit of the speed.';
    return refused({ code: 'wind-out-of-range', what, wayOut, where: source.name });
  }
  if (kept.length < finished.length) {
    notes.push(
      `${finished.length - kept.length} stations of the file have no wind and were left out.`,
    );
  }
  return { kind: 'opened', layout, stations: kept, notes };
}

function looksLikeTens({ directions, highest, seen }: ReadStation): boolean {
  if (directions < FEWEST_ROWS || highest > MOST_TENS) return false;
  return seen.reduce((sum, was) => sum + was, 0) >= FEWEST_DIRECTIONS;
}

function finishedStation({ id, place, store }: ReadStation): WindStation {
  return { id, ...place, ...store.finish() };
}

function nothingKept(source: ByteSource, stations: readonly WindStation[]): Problem {
  const where = source.name;
  const rows = stations.reduce((sum, { tally }) => sum + tally.rows, 0);
  if (rows === 0) {
    const what = 'The file holds no row.';
    return { code: 'wind-empty', what, wayOut: 'Download the record again.', where };
  }
  const badTimes = stations.reduce((sum, { tally }) => sum + tally.unreadableTime, 0);
  if (badTimes === rows) {
    return noTime(where);
  }
  return {
    code: 'wind-all-missing',
    what: rows === 1 ? 'The one row of the record has no wind.' : `None of the ${rows} rows of the record has a wind.`, // prettier-ignore
    wayOut: 'The station may not measure wind: pick another one.',
    where,
  };
}

function refused(found: Problem): OpenedWind {
  return { kind: 'refused', problem: found };
}
