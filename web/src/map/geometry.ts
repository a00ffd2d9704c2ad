import GeoJSON from "ol/format/GeoJSON";
import type Geometry from "ol/geom/Geometry";
import MultiPolygon from "ol/geom/MultiPolygon";
import Polygon from "ol/geom/Polygon";
import Projection from "ol/proj/Projection";

/** A plane of metres: the working system of the book, of which the screens know nothing else. */
export const PLANE = new Projection({
  code: "quillwort:plane",
  units: "m",
  axisOrientation: "enu",
  metersPerUnit: 1,
  global: false,
  getPointResolution: (resolution) => resolution,
});

const FORMAT = new GeoJSON({ dataProjection: PLANE, featureProjection: PLANE });

/** A GeoJSON geometry as it came; null when it is none. */
export function readGeometry(value: unknown): Geometry | null {
  if (typeof value !== "object" || value === null || !("type" in value)) return null;
  try {
    const read = FORMAT.readGeometry(value);
    return Array.isArray(read) ? null : read;
  } catch {
    return null;
  }
}

export type Area = Polygon | MultiPolygon;

/** The same, when it covers an area. */
export function readArea(value: unknown): Area | null {
  const read = readGeometry(value);
  return read instanceof Polygon || read instanceof MultiPolygon ? read : null;
}
