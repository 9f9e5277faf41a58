import { rowsPerBand } from '../raster/row-bands.ts';
import type { Work } from '../work.ts';
import type { Answer, SiteGround } from './answers.ts';
import type { SiteDefinition } from './definition.ts';
import type { Finding } from './finding.ts';
import { finding, surveyConfidence } from './ground-inputs.ts';
import { surveyQuality } from './survey-quality.ts';

/** Cells coarser than this miss the swales that food plots drain by (common practice, no source). */
const coarseCellMeters = 3;

/** The open ground: its size, its lowest and highest height, and how good its survey is. */
export const siteGround: SiteDefinition = {
  name: 'ground',
  per: 'site',
  reads: ['raster:ground', 'record:ground'],
  *compute(inputs): Work<Answer<SiteGround> | null> {
    const ground = inputs.raster('ground');
    if (!ground) return null;
    const { data, width, height, cellGroundAreaSquareMeters } = ground.grid;
    const tally = { cellsWithData: 0, lowest: Infinity, highest: -Infinity };
    const band = rowsPerBand(width);
    for (let row = 0; row < height; row += band) {
      const end = Math.min(height, row + band);
      addHeights(tally, data, row * width, end * width);
      yield { share: end / height, doing: 'reading heights' };
    }
    const { cellsWithData } = tally;
    const isEmpty = cellsWithData === 0;
    const survey = surveyQuality(ground.record);
    return {
      value: {
        survey,
        cells: width * height,
        cellsWithData,
        areaSquareMeters: cellsWithData * cellGroundAreaSquareMeters,
        lowestMeters: isEmpty ? NaN : tally.lowest,
        highestMeters: isEmpty ? NaN : tally.highest,
      },
      findings: isEmpty ? [finding('stop', 'ground-empty')] : surveyFindings(survey),
      basis: {
        method: [
          'Counts the cells that hold a height, each with its true ground area at the middle of the site.',
          'Grades the survey by its stated error, its cell size, its date and whether it came before clearing.',
        ],
        source: 'Grades: common practice, no source. Ground area of a cell: from the projection.',
        inputs: {
          cellWidthMeters: ground.grid.cellWidth,
          cellHeightMeters: ground.grid.cellHeight,
          cellGroundAreaSquareMeters,
          verticalErrorMeters: survey.verticalErrorMeters,
          surveyedOn: survey.surveyedOn,
        },
        confidence: surveyConfidence(ground),
      },
    };
  },
};

interface HeightTally {
  cellsWithData: number;
  lowest: number;
  highest: number;
}

function addHeights(tally: HeightTally, data: Float32Array, from: number, to: number): void {
  let { cellsWithData, lowest, highest } = tally;
  for (let i = from; i < to; i++) {
    const z = data[i]!;
    if (z !== z) continue;
    cellsWithData++;
    if (z < lowest) lowest = z;
    if (z > highest) highest = z;
  }
  tally.cellsWithData = cellsWithData;
  tally.lowest = lowest;
  tally.highest = highest;
}

function surveyFindings(survey: SiteGround['survey']): Finding[] {
  const found: Finding[] = [];
  const { surveyedOn, clearing, verticalErrorMeters, cellMeters } = survey;
  if (surveyedOn === null) found.push(finding('caution', 'survey-date-unknown'));
  if (clearing === 'before-clearing') {
    found.push(finding('caution', 'survey-before-clearing', [], { surveyedOn }));
  }
  if (clearing === 'unknown') found.push(finding('caution', 'clearing-unknown'));
  if (!survey.verticalErrorIsStated) {
    found.push(finding('note', 'vertical-error-assumed', [], { verticalErrorMeters }));
  }
  if (cellMeters > coarseCellMeters) {
    found.push(finding('caution', 'coarse-ground', [], { cellMeters }));
  }
  return found;
}
