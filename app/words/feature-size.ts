import type { FeatureAnswers } from '../../geo/answers/answers.ts';
import {
  areaQuantity,
  elevationQuantity,
  lengthQuantity,
  type Quantity,
  type UnitSystem,
} from './format.ts';

/** The one number that says how large a drawn thing is, or how high a point lies. */
export interface FeatureSize {
  readonly measure: 'area' | 'length' | 'elevation';
  /** Square metres or metres; null for a point off the ground. */
  readonly value: number | null;
}

/** From the answers about a feature; null while there is none, or for an outline without area. */
export function featureSize(answers: Partial<FeatureAnswers> | undefined): FeatureSize | null {
  if (!answers) return null;
  const { plotGround, bermLine, standGround, sectionLine, shapeMeasure } = answers;
  if (plotGround) return { measure: 'area', value: plotGround.value.areaSquareMeters };
  if (bermLine) return { measure: 'length', value: bermLine.value.lengthMeters };
  if (standGround) return { measure: 'elevation', value: standGround.value.elevationMeters };
  const shape = shapeMeasure?.value;
  if (shape?.shape === 'area') return { measure: 'area', value: shape.areaSquareMeters };
  if (shape?.shape === 'line') return { measure: 'length', value: shape.lengthMeters };
  if (shape?.shape === 'point') return { measure: 'elevation', value: shape.elevationMeters };
  return sectionLine ? { measure: 'length', value: sectionLine.value.lengthMeters } : null;
}

export function sizeQuantity(
  { measure, value }: FeatureSize,
  errorMeters: number | null,
  units: UnitSystem,
): Quantity {
  if (measure === 'area') return areaQuantity(value, units);
  if (measure === 'length') return lengthQuantity(value, units);
  return elevationQuantity(value, errorMeters, units);
}
