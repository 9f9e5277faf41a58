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
    let cellsWithData = 0;
    let lowest = Infinity;
    let highest = -Infinity;
    for (let row = 0; row < height; row++) {
      for (let i = row * width; i < (row + 1) * width; i++) {
        const z = data[i]!;
        if (!(z === z)) continue;
        cellsWithData++;
        if (z < lowest) lowest = z;
        if (z > highest) highest = z;
      }
      if (row % 64 === 63) yield { share: row / height, doing: 'reading heights' };
    }
    const survey = surveyQuality(ground.record);
    return {
      value: {
        survey,
        cells: width * height,
        cellsWithData,
        areaSquareMeters: cellsWithData * cellGroundAreaSquareMeters,
        lowestMeters: lowest,
        highestMeters: highest,
      },
      findings: surveyFindings(survey),
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
