import type { Notice } from '../store/session.ts';
import { coordinate } from './format.ts';

/** Said on coming to a place where nothing is yet. */
export function wentTo([lng, lat]: readonly [number, number]): Notice {
  return {
    what: `The middle of the map is ${coordinate(lng, lat)}.`,
    lines: [
      'It is blank paper until there is a picture: switch imagery on in Layers, open elevation or a photo, or draw.',
    ],
  };
}

/** What a pair of numbers could be that is no latitude and longitude. */
export function offGlobe(x: number, y: number, isSmall: boolean): string {
  return isSmall
    ? `${x}, ${y} is out of range: latitude goes first and runs from −90 to 90, longitude from −180 to 180. Check the numbers; if they are an easting and a northing, say in which system.`
    : `${x}, ${y} is an easting and a northing. In which system?`;
}

export const placeExamples =
  'Write latitude, then longitude, such as 36.12345, −75.01234; or easting, northing and their system, such as 500000, 3984000 EPSG:26918.';
