/** How a tile that did not come is told from a fault of the map's own. */
export class ImageryTileMissing extends Error {
  override readonly name = 'ImageryTileMissing';
}
