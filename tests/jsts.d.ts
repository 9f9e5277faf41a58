/** The part of jsts that the tests use; its own types do not cover its files one by one. */
interface JstsGeometry {
  getArea(): number;
  isValid(): boolean;
}
interface JstsRing {
  readonly ring: never;
}

declare module 'jsts/org/locationtech/jts/geom/GeometryFactory.js' {
  export default class GeometryFactory {
    createLinearRing(coordinates: readonly object[]): JstsRing;
    createPolygon(shell: JstsRing, holes: readonly JstsRing[]): JstsGeometry;
  }
}
declare module 'jsts/org/locationtech/jts/geom/Coordinate.js' {
  export default class Coordinate {
    constructor(x: number, y: number);
  }
}
declare module 'jsts/org/locationtech/jts/operation/overlay/OverlayOp.js' {
  export default class OverlayOp {
    static readonly INTERSECTION: number;
    static readonly UNION: number;
    static readonly DIFFERENCE: number;
    static readonly SYMDIFFERENCE: number;
  }
}
declare module 'jsts/org/locationtech/jts/operation/valid/IsValidOp.js' {
  export default class IsValidOp {
    constructor(geometry: JstsGeometry);
    isValid(): boolean;
  }
}
declare module 'jsts/org/locationtech/jts/operation/overlay/snap/SnapIfNeededOverlayOp.js' {
  export default class SnapIfNeededOverlayOp {
    static overlayOp(a: JstsGeometry, b: JstsGeometry, operation: number): JstsGeometry;
  }
}
