import type { OfferedImagery } from '../../plan/imagery.ts';

/**
 * The one service that is known by name: aerial photos of the United States by its Geological Survey,
 * in the public domain. Row before column (trade notes §3.2 [S34]); its cache ends at level 16
 * (2.4 m), and coarser tiles are stretched beyond. Nothing is fetched until the user chooses it.
 */
export const nationalImagery: OfferedImagery = {
  name: 'National imagery',
  template:
    'https://basemap.nationalmap.gov/arcgis/rest/services/USGSImageryOnly/MapServer/tile/{z}/{y}/{x}',
  attribution: 'Imagery: U.S. Geological Survey, The National Map (public domain)',
  minZoom: 0,
  maxZoom: 16,
  tileSize: 256,
  bounds: null,
};
