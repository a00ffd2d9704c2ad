import { containsExtent } from "ol/extent";
import Feature from "ol/Feature";
import type Geometry from "ol/geom/Geometry";
import LineString from "ol/geom/LineString";
import MultiPolygon from "ol/geom/MultiPolygon";
import Point from "ol/geom/Point";
import Polygon from "ol/geom/Polygon";
import DrawInteraction from "ol/interaction/Draw";
import { defaults as defaultInteractions } from "ol/interaction/defaults";
import Modify from "ol/interaction/Modify";
import Snap from "ol/interaction/Snap";
import ImageLayer from "ol/layer/Image";
import OlMap from "ol/Map";
import ImageStatic from "ol/source/ImageStatic";
import Circle from "ol/style/Circle";
import Fill from "ol/style/Fill";
import Style from "ol/style/Style";
import View from "ol/View";
import type { DrawView } from "../../api/contract";
import { feature, fill, layer } from "../../map/features";
import { PLANE, readArea } from "../../map/geometry";
import type { Ink } from "../../map/palette";
import { font, line, words } from "../../map/styles";

/** What a click on the board does. */
export type Tool =
  | "zone"
  | "sub-area"
  | "outline"
  | "island"
  | "split"
  | "contour"
  | "place"
  | "corner";
export type Place = readonly [number, number];

export interface BoardEvents {
  /** A shape, a line or a place was drawn. */
  drawn(places: readonly Place[]): void;
  /** The shape being drawn looks so now. */
  drawing(places: readonly Place[]): void;
  /** A corner was moved; with `fresh` it was put into an edge first. */
  corner(from: Place, to: Place, fresh: boolean): void;
}

/** Every corner of an area, ring by ring, the closing ones left out. */
export function cornersOf(value: unknown): Place[] {
  const area = readArea(value);
  if (!area) return [];
  const polygons = area instanceof MultiPolygon ? area.getPolygons() : [area];
  return polygons.flatMap((one) =>
    one
      .getCoordinates()
      .flatMap((ring) => ring.slice(0, -1).map((at): Place => [at[0] ?? 0, at[1] ?? 0])),
  );
}

/** The place on the nearest edge, so that a corner can be put into it. */
function foot(rings: readonly (readonly Place[])[], at: Place): Place {
  let best: Place = at;
  let least = Number.POSITIVE_INFINITY;
  for (const ring of rings) {
    ring.forEach((from, index) => {
      const to = ring[index + 1];
      if (!to) return;
      const [dx, dy] = [to[0] - from[0], to[1] - from[1]];
      const length = dx * dx + dy * dy;
      if (length === 0) return;
      const share = Math.min(
        1,
        Math.max(0, ((at[0] - from[0]) * dx + (at[1] - from[1]) * dy) / length),
      );
      const found: Place = [from[0] + share * dx, from[1] + share * dy];
      const far = Math.hypot(found[0] - at[0], found[1] - at[1]);
      if (far < least) {
        least = far;
        best = found;
      }
    });
  }
  return best;
}

const key = (at: Place): string => `${at[0]},${at[1]}`;

/** The lake as something to draw on. */
export class Board {
  readonly #map: OlMap;
  readonly #shore = layer(1);
  readonly #areas = layer(2);
  readonly #sketch = layer(3);
  readonly #marks = layer(4);
  readonly #scans: ImageLayer<ImageStatic>[] = [];
  readonly #events: BoardEvents;
  #ink: Ink;
  #draw: DrawInteraction | null = null;
  #modify: Modify | null = null;
  #snap: Snap[] = [];
  #before: Map<Feature<Geometry>, Place[][]> = new Map();
  #fitted = false;

  constructor(target: HTMLElement, ink: Ink, events: BoardEvents) {
    this.#ink = ink;
    this.#events = events;
    this.#map = new OlMap({
      target,
      controls: [],
      layers: [this.#shore, this.#areas, this.#sketch, this.#marks],
      interactions: defaultInteractions({
        altShiftDragRotate: false,
        pinchRotate: false,
        doubleClickZoom: false,
      }),
      keyboardEventTarget: target,
      view: new View({ projection: PLANE, center: [0, 0], resolution: 1 }),
    });
  }

  /** Shows what there is; `chosen` is outlined. */
  show(view: DrawView, chosen: string | null): void {
    const ink = this.#ink;
    fill(
      this.#shore,
      feature(
        readArea(view.outline),
        new Style({
          stroke: line(ink.ink, 1.4),
          fill: new Fill({ color: "rgba(158,202,225,0.25)" }),
        }),
      ),
    );
    fill(
      this.#areas,
      view.areas.flatMap((area) => {
        const isChosen = area.id === chosen;
        const width = area.kind === "zone" ? 1.6 : 0.8;
        const style = [
          new Style({
            stroke: line(isChosen ? ink.accent : ink.navy, isChosen ? 3 : width),
            fill: new Fill({ color: "rgba(0,0,0,0.001)" }),
          }),
          words({
            text: area.code,
            font: font(area.kind === "zone" ? 14 : 11, 700),
            colour: ink.ink,
            halo: ink.paper,
          }),
        ];
        return feature(readArea(area.geometry), style, area.id);
      }),
    );
    fill(
      this.#marks,
      [
        ...view.landmarks.map((one) => ({ at: one.at, name: one.name })),
        ...view.flags.map((flag) => ({ at: flag.at, name: "!" })),
      ].flatMap(({ at, name }) =>
        feature(new Point([at[0] ?? 0, at[1] ?? 0]), [
          new Style({
            image: new Circle({
              radius: 4,
              fill: new Fill({ color: name === "!" ? ink.accent : ink.ink }),
            }),
          }),
          words({
            text: name,
            font: font(12, 400, true),
            colour: ink.ink,
            halo: ink.paper,
            dy: -11,
          }),
        ]),
      ),
    );
    for (const scan of this.#scans.splice(0)) this.#map.removeLayer(scan);
    for (const one of view.backgrounds) {
      const scan = new ImageLayer({
        zIndex: 0,
        source: new ImageStatic({
          url: `/api/backgrounds/${one.id}/north-up`,
          projection: PLANE,
          imageExtent: one.extent as [number, number, number, number],
        }),
      });
      this.#scans.push(scan);
      this.#map.addLayer(scan);
    }
    if (!this.#fitted && view.extent) {
      this.#fitted = true;
      this.#map
        .getView()
        .fit(view.extent, { padding: [24, 24, 24, 24], size: this.#map.getSize() });
    }
  }

  /** Shows a shape that was typed or is being made. */
  sketch(places: readonly Place[], closed: boolean): void {
    const style = new Style({ stroke: line(this.#ink.accent, 2, [6, 4]) });
    const coordinates = places.map((at) => [...at]);
    const shape =
      closed && coordinates.length > 2 ? new Polygon([coordinates]) : new LineString(coordinates);
    fill(this.#sketch, places.length > 1 ? feature(shape, style) : []);
  }

  /** Takes up a tool. */
  take(tool: Tool): void {
    this.#drop();
    if (tool === "corner") {
      this.#takeModify();
      return;
    }
    const type =
      tool === "place"
        ? "Point"
        : tool === "split" || tool === "contour"
          ? "LineString"
          : "Polygon";
    const draw = new DrawInteraction({ type, stopClick: true });
    const read = (geometry: Geometry | undefined): Place[] => {
      if (geometry instanceof Point) return [geometry.getCoordinates() as [number, number]];
      if (geometry instanceof LineString) return geometry.getCoordinates() as [number, number][];
      if (geometry instanceof Polygon)
        return (geometry.getCoordinates()[0] ?? []).slice(0, -1) as [number, number][];
      return [];
    };
    draw.on("drawstart", ({ feature: made }) => {
      fill(this.#sketch, []);
      made.getGeometry()?.on("change", () => this.#events.drawing(read(made.getGeometry())));
    });
    draw.on("drawend", ({ feature: made }) => this.#events.drawn(read(made.getGeometry())));
    this.#map.addInteraction(draw);
    this.#draw = draw;
    this.#takeSnap();
  }

  #takeSnap(): void {
    for (const target of [this.#shore, this.#areas]) {
      const source = target.getSource();
      if (!source) continue;
      const snap = new Snap({ source, pixelTolerance: 12 });
      this.#map.addInteraction(snap);
      this.#snap.push(snap);
    }
  }

  #rings(made: Feature<Geometry>): Place[][] {
    const shape = made.getGeometry();
    const polygons =
      shape instanceof MultiPolygon ? shape.getPolygons() : shape instanceof Polygon ? [shape] : [];
    return polygons.flatMap((one) =>
      one.getCoordinates().map((ring) => ring.map((at): Place => [at[0] ?? 0, at[1] ?? 0])),
    );
  }

  #takeModify(): void {
    const source = this.#areas.getSource();
    if (!source) return;
    const modify = new Modify({ source, pixelTolerance: 12 });
    modify.on("modifystart", () => {
      this.#before = new Map(source.getFeatures().map((one) => [one, this.#rings(one)]));
    });
    modify.on("modifyend", ({ features }) => {
      for (const one of features.getArray()) {
        if (!(one instanceof Feature)) continue;
        const before = this.#before.get(one) ?? [];
        const old = new Set(before.flat().map(key));
        const now = this.#rings(one);
        const to = now.flat().find((at) => !old.has(key(at)));
        if (!to) continue;
        const kept = new Set(now.flat().map(key));
        const from = before.flat().find((at) => !kept.has(key(at)));
        this.#events.corner(from ?? foot(before, to), to, from === undefined);
        return;
      }
    });
    this.#map.addInteraction(modify);
    this.#modify = modify;
    this.#takeSnap();
  }

  #drop(): void {
    if (this.#draw) this.#map.removeInteraction(this.#draw);
    if (this.#modify) this.#map.removeInteraction(this.#modify);
    for (const snap of this.#snap.splice(0)) this.#map.removeInteraction(snap);
    this.#draw = null;
    this.#modify = null;
    fill(this.#sketch, []);
  }

  /** Leaves the shape being drawn. */
  escape(): void {
    this.#draw?.abortDrawing();
    fill(this.#sketch, []);
  }

  /** Brings a place into the frame. */
  goTo(at: Place): void {
    const view = this.#map.getView();
    const extent = view.calculateExtent(this.#map.getSize());
    if (!containsExtent(extent, [at[0], at[1], at[0], at[1]])) view.setCenter([...at]);
  }

  zoom(by: number): void {
    const view = this.#map.getView();
    view.setResolution((view.getResolution() ?? 1) * by);
  }

  close(): void {
    this.#map.setTarget(undefined);
  }
}
