import type { HorizontalCrs } from '../../frame/crs-types.ts';
import type { ByteSource } from '../byte-source.ts';
import type { Reading } from '../opening.ts';
import { ReadingStopped, runWork } from '../run-work.ts';
import { buildFeatures, type FaultBudget } from './build-features.ts';
import { counted } from './count-words.ts';
import { layerSystem } from './layer-system.ts';
import { placeLayer } from './place-layer.ts';
import { readSources } from './read-sources.ts';
import type { RawLayer } from './raw-feature.ts';
import { soilNotes } from './soil-columns.ts';
import { swapFeature, whySwapped } from './swapped-axes.ts';
import { tidyNotes } from './tidy-notes.ts';
import { freshLimits, VectorError } from './vector-error.ts';
import type {
  AskedVectors,
  DroppedColumn,
  VectorChoices,
  VectorFeature,
  VectorOpening,
} from './vector-types.ts';

/**
 * The one door for drawings: GeoJSON, KML and KMZ, GPX, shapefiles loose or zipped, told apart by
 * content; several files come in together. What the files do not say is asked, one question at a
 * time: call again with the answer among `choices`. Nothing outside the files is fetched, nothing
 * half-read comes back; what was left out or put right stands in the notes.
 * Throws only for programmer errors.
 */
export async function openVectors(
  sources: readonly ByteSource[],
  choices: VectorChoices = {},
  reading: Reading = {},
): Promise<VectorOpening> {
  try {
    return await open(sources, choices, reading);
  } catch (error) {
    if (error instanceof VectorError) return { kind: 'refused', problem: error.problem };
    if (!(error instanceof ReadingStopped)) throw error;
    const what = 'Reading was stopped.';
    const wayOut = 'Open the file again when you want it.';
    return { kind: 'refused', problem: { code: 'stopped', what, wayOut } };
  }
}

async function open(
  sources: readonly ByteSource[],
  choices: VectorChoices,
  reading: Reading,
): Promise<VectorOpening> {
  const read = await readSources(sources, freshLimits(), reading);
  const notes = [...read.notes];
  const features: VectorFeature[] = [];
  const personalColumns: DroppedColumn[] = [];
  const systems = new Set<string>();
  const budget: FaultBudget = { pairs: 3e8 };
  let leftOut = 0;
  for (const layer of read.layers) {
    const crs = layerSystem(layer, read.layers.length === 1, choices);
    if (crs.kind === 'ask') return crs;
    systems.add(crs.name);
    const turned = turnedLayer(layer, crs, choices, notes);
    if ('question' in turned) return turned;
    const placed = await runWork(placeLayer(turned, crs), reading);
    notes.push(...layer.notes, ...tidyNotes(layer.file, placed.tally));
    leftOut += placed.tally.outOfRange;
    const keep = choices.keepPersonal === true;
    const built = await runWork(
      buildFeatures(layer, placed, features.length, keep, budget),
      reading,
    );
    for (const feature of built.features) features.push(feature);
    notes.push(...soilNotes(layer.file, built.features));
    for (const [column, values] of built.personal) {
      personalColumns.push({ file: layer.file, column, values });
    }
    if (built.faulty > 0) {
      const said = counted(built.faulty, 'outline', 'outlines');
      notes.push(
        `${layer.file}: ${said} kept although crossing or touching itself; mend it on the map.`,
      );
    }
    if (built.unchecked > 0) {
      const said = counted(built.unchecked, 'outline', 'outlines');
      notes.push(`${layer.file}: ${said} too long to be looked over for crossings.`);
    }
  }
  if (features.length === 0) throw nothingLeft(read.layers[0].file, leftOut);
  return {
    kind: 'opened',
    formats: [...new Set(read.layers.map((layer) => layer.format))],
    files: read.layers.map((layer) => layer.file),
    features,
    crsName: [...systems].join(', '),
    notes,
    personalColumns,
  };
}

/** The layer with x and y exchanged where they look it and the user agreed; else the question. */
function turnedLayer(
  layer: RawLayer,
  crs: HorizontalCrs,
  choices: VectorChoices,
  notes: string[],
): RawLayer | AskedVectors {
  if (crs.kind !== 'geographic') return layer;
  const why = whySwapped(layer.features, choices.near);
  if (why === null || choices.swapped === false) return layer;
  const { file } = layer;
  if (choices.swapped === undefined) {
    return { kind: 'ask', question: 'swapped', why: `${file}: ${why}`, file };
  }
  notes.push(`${file}: latitude and longitude were exchanged, as you said.`);
  return { ...layer, features: layer.features.map(swapFeature) };
}

function nothingLeft(file: string, outOfRange: number): VectorError {
  return outOfRange > 0
    ? new VectorError(
        'vector-out-of-range',
        'The coordinates of the file lie beyond ±180° of longitude or ±90° of latitude.',
        'See in which system it was exported, and export it again in longitude and latitude.',
        file,
      )
    : new VectorError(
        'vector-none',
        'The file holds no point, line or area.',
        'Look whether it is the right file, or export it again with its shapes.',
        file,
      );
}
