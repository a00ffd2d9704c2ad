import Feature from "ol/Feature";
import type Geometry from "ol/geom/Geometry";
import VectorLayer from "ol/layer/Vector";
import VectorSource from "ol/source/Vector";
import type Style from "ol/style/Style";

/** A layer of features. */
export type Layer = VectorLayer<VectorSource<Feature<Geometry>>>;
/** An empty layer at a height; `declutter` leaves out what has no room. */
export const layer = (zIndex: number, declutter = false): Layer =>
  new VectorLayer({
    source: new VectorSource<Feature<Geometry>>(),
    zIndex,
    declutter,
    updateWhileAnimating: true,
    updateWhileInteracting: true,
  });

/** Puts features in place of those of before. */
export function fill(target: Layer, features: readonly Feature<Geometry>[]): void {
  const source = target.getSource();
  source?.clear(true);
  source?.addFeatures([...features]);
}

/** A feature, or none without a geometry. */
export function feature(
  geometry: Geometry | null,
  style: Style | Style[],
  code?: string,
): Feature<Geometry>[] {
  if (!geometry) return [];
  const made = new Feature<Geometry>(geometry);
  made.setStyle(style);
  if (code !== undefined) made.set("code", code);
  return [made];
}
