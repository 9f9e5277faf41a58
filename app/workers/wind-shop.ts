import { openWind } from '../../geo/formats/wind/open-wind.ts';
import { packRecord } from '../../geo/formats/wind/pack-record.ts';
import type { WindChoices } from '../../geo/formats/wind/wind-opening.ts';
import type { WindStation } from '../../geo/plan/wind-record.ts';
import { blobSource } from './blob-source.ts';
import type { KeptStation, WindOpening } from './messages.ts';
import type { Asking } from './serve-door.ts';
import { breathe } from './slices.ts';

/** An airport's mast; what a file does not say (10 m, common practice). */
const MAST_METERS = 10;

/** Reads a record of wind and packs it as the plan keeps it. */
export async function openWindFile(
  file: File,
  choices: WindChoices,
  asking: Asking,
): Promise<WindOpening> {
  const opening = await openWind(blobSource(file), choices, {
    shouldStop: asking.stopped,
    onProgress: async ({ share, doing }) => {
      asking.progress(share, doing);
      await breathe();
    },
  });
  if (opening.kind !== 'opened') return opening;
  return {
    kind: 'opened',
    stations: opening.stations.map((one) => kept(one, file.name)),
    notes: opening.notes,
  };
}

function kept(
  { id, name, longitude, latitude, record, tally }: WindStation,
  fileName: string,
): KeptStation {
  return {
    id: (id || fileName).slice(0, 100),
    name: (name ?? (id || fileName)).slice(0, 200),
    longitude,
    latitude,
    mastMeters: MAST_METERS,
    tally: { ...tally },
    hours: packRecord(record),
  };
}
