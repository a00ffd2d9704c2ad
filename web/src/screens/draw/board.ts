import Collection from "ol/Collection";
import { never } from "ol/events/condition";
import { containsExtent, createEmpty, extend } from "ol/extent";
import Feature from "ol/Feature";
import type Geometry from "ol/geom/Geometry";
import LineString from "ol/geom/LineString";
import MultiPolygon from "ol/geom/MultiPolygon";
import Point from "ol/geom/Point";
import Polygon from "ol/geom/Polygon";
import DrawInteraction from "ol/interaction/Draw";
import { defaults as defaultInteractions } from "ol/interaction/defaults";
import Modify from "ol/interaction/Modify";
import ImageLayer from "ol/layer/Image";
import OlMap from "ol/Map";
import ImageStatic from "ol/source/ImageStatic";
import Circle from "ol/style/Circle";
import Fill from "ol/style/Fill";
import RegularShape from "ol/style/RegularShape";
import Style from "ol/style/Style";
import View from "ol/View";
import type { DrawnAreaView, DrawView } from "../../api/contract";
import { feature, fill, layer } from "../../map/features";
import { type Area, PLANE, readArea, readGeometry } from "../../map/geometry";
import { hatch } from "../../map/hatch";
import type { Ink } from "../../map/palette";
import { font, landmark, line, words } from "../../map/styles";
import { inBook } from "../../state/base";
import { type Mark, markStyle } from "./picture";
import { footOn, isFree, type Ring, type Snapped, Snapping, snapTo, snapWords } from "./snap";

/** What a click on the board does. */
export type Tool =
  | "choose"
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
  /** An area was picked. */
  picked(id: string): void;
  /** Enter was pressed on the map: the place under the cross in its middle. */
  placed(at: Place): void;
  /** A corner is being moved, and has come so far. */
  moving(from: Place, to: Place): void;
  /** A corner was moved; with `fresh` it was put into an edge first. */
  corner(from: Place, to: Place, fresh: boolean): void;
}

/** The closed rings of a shape, polygon by polygon, the islands of each after its shore. */
function polygonsOf(shape: Geometry | null | undefined): Place[][][] {
  const polygons =
    shape instanceof MultiPolygon ? shape.getPolygons() : shape instanceof Polygon ? [shape] : [];
  return polygons.map((one) =>
    one.getCoordinates().map((ring) => ring.map((at): Place => [at[0] ?? 0, at[1] ?? 0])),
  );
}
const ringsOf = (shape: Geometry | null | undefined): Place[][] => polygonsOf(shape).flat();

/** Every corner of an area, ring by ring, the closing ones left out. */
export const cornersOf = (value: unknown): Place[] => openRings(value).flat(2);

/** The rings of an area without their closing corners, polygon by polygon. */
export const openRings = (value: unknown): Place[][][] =>
  polygonsOf(readArea(value)).map((rings) => rings.map((ring) => ring.slice(0, -1)));

/** The place on the nearest edge, so that a corner can be put into it. */
function foot(rings: readonly (readonly Place[])[], at: Place): Place {
  let best: Place = at;
  let least = Number.POSITIVE_INFINITY;
  for (const ring of rings) {
    ring.forEach((from, index) => {
      const to = ring[index + 1];
      if (!to) return;
      const found = footOn(from, to, at);
      const far = Math.hypot(found[0] - at[0], found[1] - at[1]);
      if (far < least) {
        least = far;
        best = found;
      }
    });
  }
  return best;
}

/** Pixels within which a place snaps to a corner or an edge. */
const SNAP = 12;

/** Pixels within which a click means the corner that is there; a finger is less exact than a mouse. */
const reach = (): number => (matchMedia("(pointer: coarse)").matches ? 14 : 8);

const key = (at: Place): string => `${at[0]},${at[1]}`;

/** The lake as something to draw on. */
export class Board {
  readonly #map: OlMap;
  readonly #shore = layer(1);
  // of lettering that has no room, a code stays and a name goes
  readonly #areas = layer(2, true);
  readonly #names = layer(1.9, true);
  readonly #sketch = layer(3);
  readonly #marks = layer(4);
  readonly #depths = layer(1.5);
  readonly #cross = layer(5);
  readonly #sign = layer(6);
  #tool: Tool = "choose";
  readonly #scans: ImageLayer<ImageStatic>[] = [];
  readonly #events: BoardEvents;
  #ink: Ink;
  #draw: DrawInteraction | null = null;
  #modify: Modify | null = null;
  #snap: Snapping | null = null;
  /** Edges as they are kept, to snap to. */
  #edges: Ring[] = [];
  /** The corner that is being moved, where it was. */
  #from: Place | null = null;
  #before: Map<Feature<Geometry>, Place[][]> = new Map();
  #fitted = false;
  #shoreless = false;
  #extent: number[] | null = null;
  readonly #depthWords: (metres: number) => string;

  constructor(
    target: HTMLElement,
    ink: Ink,
    depthWords: (metres: number) => string,
    events: BoardEvents,
  ) {
    this.#ink = ink;
    this.#depthWords = depthWords;
    this.#events = events;
    this.#map = new OlMap({
      target,
      controls: [],
      layers: [
        this.#shore,
        this.#depths,
        this.#names,
        this.#areas,
        this.#sketch,
        this.#marks,
        this.#cross,
        this.#sign,
      ],
      interactions: defaultInteractions({
        altShiftDragRotate: false,
        pinchRotate: false,
        doubleClickZoom: false,
      }),
      keyboardEventTarget: target,
      view: new View({ projection: PLANE, center: [0, 0], resolution: 1, enableRotation: false }),
    });
    this.#map.on("click", (event) => {
      if (this.#tool !== "choose") return;
      const here = this.#areas.getSource()?.getFeaturesAtCoordinate(event.coordinate) ?? [];
      // the smallest is the one meant: a sub-area lies within its zone
      const size = (one: Feature<Geometry>): number => {
        const shape = one.getGeometry();
        return shape instanceof MultiPolygon || shape instanceof Polygon ? shape.getArea() : 0;
      };
      const [least] = here.sort((a, b) => size(a) - size(b));
      const id = least?.get("code") as string | undefined;
      if (id) this.#events.picked(id);
    });
    target.addEventListener("keydown", (event) => {
      if (event.key !== "Enter") return;
      event.preventDefault();
      const middle = this.#middle();
      if (middle) this.#events.placed(isFree(event) ? middle : (this.#near(middle)?.at ?? middle));
    });
    const cross = new Style({
      image: new RegularShape({
        points: 4,
        radius: 11,
        radius2: 0,
        stroke: line(ink.accent, 1.6),
      }),
    });
    const show = (): void => {
      const seen = document.activeElement === target && target.matches(":focus-visible");
      const middle = seen ? this.#middle() : null;
      fill(this.#cross, middle ? feature(new Point([...middle]), cross) : []);
      if (middle) this.#tell(this.#near(middle));
    };
    target.addEventListener("focus", show);
    target.addEventListener("blur", show);
    target.addEventListener("pointerleave", () => this.#tell(null));
    this.#map.getView().on("change:center", show);
    this.#map.on("change:size", () => this.whole());
  }

  #middle(): Place | null {
    const at = this.#map.getView().getCenter();
    return at ? [at[0] ?? 0, at[1] ?? 0] : null;
  }

  /** What a place snaps to with the tool in hand. */
  #near(at: Place): Snapped | null {
    // a contour runs beside the shore and beside its neighbours, never along them
    if (this.#tool === "choose" || this.#tool === "contour") return null;
    const reach = SNAP * (this.#map.getView().getResolution() ?? 1);
    return snapTo(this.#edges, at, reach, this.#from ?? undefined);
  }

  /** Shows that a place snaps, and to what. */
  #tell(found: Snapped | null): void {
    const sign = (colour: string, width: number) =>
      new Style({
        image: new RegularShape({
          points: found?.kind === "corner" ? 4 : 24,
          radius: found?.kind === "corner" ? 11 : 8,
          angle: Math.PI / 4,
          stroke: line(colour, width),
        }),
      });
    fill(
      this.#sign,
      found
        ? feature(new Point([...found.at]), [
            sign("#FFFFFF", 5),
            sign(this.#ink.accent, 2.2),
            words({
              text: snapWords(this.#edges, found),
              font: font(13, 600),
              colour: this.#ink.accent,
              halo: "#FFFFFF",
              haloWidth: 5,
              dy: -20,
            }),
          ])
        : [],
    );
  }

  /** Shows what there is; `chosen` is outlined. */
  show(view: DrawView, chosen: string | null): void {
    const ink = this.#ink;
    const scanned = view.backgrounds.length > 0;
    const outline = readArea(view.outline);
    fill(this.#shore, [
      ...(scanned ? feature(outline, new Style({ stroke: line("#FFFFFF", 5) })) : []),
      ...feature(
        outline,
        new Style({
          stroke: line(ink.ink, scanned ? 2 : 1.4),
          fill: new Fill({ color: scanned ? "rgba(198,219,239,0.2)" : "#EAF2F9" }),
        }),
      ),
    ]);
    fill(
      this.#depths,
      view.contours.flatMap((one) =>
        feature(readGeometry(one.geometry), [
          new Style({ stroke: line("#FFFFFF", scanned ? 4 : 0.1) }),
          new Style({ stroke: line("#2171B5", scanned ? 1.8 : 1) }),
          words({
            text: this.#depthWords(one.depth_m),
            font: font(12, 600),
            colour: ink.navy,
            halo: "#FFFFFF",
          }),
        ]),
      ),
    );
    const rings = (of: string, made: Area | null): Ring[] =>
      ringsOf(made).map((places) => ({ of, places }));
    this.#edges = [
      ...view.areas.flatMap((one) => rings(one.code, readArea(one.geometry))),
      ...rings("the shore", outline),
    ];
    const order = (area: DrawnAreaView): number =>
      area.id === chosen ? 2 : area.kind === "zone" ? 1 : 0;
    fill(
      this.#areas,
      [...view.areas]
        .sort((a, b) => order(a) - order(b))
        .flatMap((area) => this.#area(area, area.id === chosen)),
    );
    fill(
      this.#names,
      view.landmarks.flatMap((one) =>
        feature(
          new Point([...one.at]),
          words({
            text: one.name,
            font: font(12, one.kind === "launch" ? 600 : 400, one.kind !== "launch"),
            colour: ink.ink,
            halo: ink.paper,
            dy: -13,
          }),
        ),
      ),
    );
    fill(this.#marks, [
      ...view.landmarks.flatMap((one) => feature(new Point([...one.at]), landmark(one.kind, ink))),
      ...view.flags.flatMap((flag, index) =>
        feature(new Point([...flag.at]), [
          new Style({
            image: new Circle({
              radius: 9,
              fill: new Fill({ color: ink.accent }),
              stroke: line(ink.paper, 1.5),
            }),
          }),
          words({ text: String(index + 1), font: font(12, 700), colour: "#FFFFFF", dy: 1 }),
        ]),
      ),
    ]);
    for (const scan of this.#scans.splice(0)) this.#map.removeLayer(scan);
    for (const one of view.backgrounds) {
      const scan = new ImageLayer({
        zIndex: 0,
        source: new ImageStatic({
          url: inBook(`/api/backgrounds/${one.id}/north-up`),
          projection: PLANE,
          imageExtent: one.extent as [number, number, number, number],
        }),
      });
      this.#scans.push(scan);
      this.#map.addLayer(scan);
    }
    const all = [view.extent, ...view.backgrounds.map((one) => one.extent)].filter(
      (one): one is number[] => one !== null && one !== undefined,
    );
    const extent = all.length > 0 ? createEmpty() : null;
    for (const one of all) if (extent) extend(extent, one);
    const changed = String(extent) !== String(this.#extent);
    this.#extent = extent;
    // the first shore of a lake is brought into the frame
    const first = this.#shoreless && view.outline !== null;
    this.#shoreless = view.outline === null;
    if (changed && (!this.#fitted || first || this.#shoreless)) this.whole();
  }

  /** Numbered points, for a scan that is being placed. */
  pin(marks: readonly Mark[]): void {
    fill(
      this.#sketch,
      marks.flatMap((mark) => feature(new Point([mark.x, mark.y]), markStyle(mark, this.#ink))),
    );
  }

  /** The tool in hand takes hold of what is shown now. */
  renew(): void {
    if (this.#tool === "corner") this.take("corner");
  }

  /** All there is, in the frame. */
  whole(): void {
    const size = this.#map.getSize();
    if (!this.#extent || !size?.[0]) return;
    this.#fitted = true;
    this.#map.getView().fit(this.#extent, { padding: [28, 28, 28, 28], size });
  }

  /** Goes to a place first seen, so wide across. */
  startAt(at: Place, across: number): void {
    this.#extent = [at[0] - across / 2, at[1] - across / 2, at[0] + across / 2, at[1] + across / 2];
    this.whole();
  }

  #area(area: DrawnAreaView, isChosen: boolean): Feature<Geometry>[] {
    const ink = this.#ink;
    const isZone = area.kind === "zone";
    const guarded = area.protection === "conservation";
    const edge = isChosen
      ? line(ink.accent, 2.8)
      : isZone
        ? line(ink.ink, 1.2, guarded ? [7, 2.5, 1.5, 2.5] : undefined)
        : line(`${ink.ink}80`, 0.7);
    const ratio = window.devicePixelRatio || 1;
    const face = new Style({
      stroke: edge,
      fill: new Fill({ color: guarded ? hatch(ink.ink, "rising", ratio, 0.5) : "#FFFFFF00" }),
    });
    const text = words({
      text: area.code,
      font: font(isZone ? 14 : 11.5, isZone ? 700 : 400),
      colour: isChosen ? ink.accent : ink.ink,
      halo: "#FFFFFF",
    });
    const shape = readArea(area.geometry);
    const room = shape ? Math.sqrt(shape.getArea()) : 0;
    return feature(shape, face, area.id).map((made) => {
      made.setStyle((_, resolution) =>
        isChosen || room / resolution > (isZone ? 26 : 48) ? [face, text] : [face],
      );
      return made;
    });
  }

  /** Shows a shape that was typed or is being made. */
  sketch(places: readonly Place[], closed: boolean): void {
    const style = [
      new Style({ stroke: line("#FFFFFF", 5) }),
      new Style({ stroke: line(this.#ink.accent, 2.4) }),
    ];
    const dot = new Style({
      image: new Circle({
        radius: 4,
        fill: new Fill({ color: this.#ink.accent }),
        stroke: line("#FFFFFF", 1.2),
      }),
    });
    const coordinates = places.map((at) => [...at]);
    const shape =
      closed && coordinates.length > 2 ? new Polygon([coordinates]) : new LineString(coordinates);
    fill(this.#sketch, [
      ...(places.length > 1 ? feature(shape, style) : []),
      ...(places.length < 60 ? coordinates.flatMap((at) => feature(new Point(at), dot)) : []),
    ]);
  }

  /** Takes up a tool. */
  take(tool: Tool): void {
    this.#drop();
    this.#tool = tool;
    if (tool === "choose") return;
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
    const draw = new DrawInteraction({
      type,
      stopClick: true,
      snapTolerance: reach(),
      // the keys that keep a place from snapping are held while clicking
      condition: ({ originalEvent }) => !originalEvent.shiftKey && !originalEvent.metaKey,
      style: [
        new Style({
          stroke: line(this.#ink.accent, 2.2),
          fill: new Fill({ color: "rgba(156,20,88,0.08)" }),
          image: new Circle({
            radius: 5,
            stroke: line("#FFFFFF", 1.2),
            fill: new Fill({ color: this.#ink.accent }),
          }),
        }),
      ],
    });
    const read = (geometry: Geometry | undefined): Place[] => {
      if (geometry instanceof Point) return [geometry.getCoordinates() as [number, number]];
      if (geometry instanceof LineString) return geometry.getCoordinates() as [number, number][];
      if (geometry instanceof Polygon)
        return (geometry.getCoordinates()[0] ?? []).slice(0, -1) as [number, number][];
      return [];
    };
    draw.on("drawstart", ({ feature: made }) => {
      fill(this.#sketch, []);
      // the last of them is the pointer itself, which is no corner yet
      made
        .getGeometry()
        ?.on("change", () => this.#events.drawing(read(made.getGeometry()).slice(0, -1)));
    });
    draw.on("drawend", ({ feature: made }) => this.#events.drawn(read(made.getGeometry())));
    this.#map.addInteraction(draw);
    this.#draw = draw;
    this.#takeSnap();
  }

  /** A line whose end lies on its beginning, as it looks on the map, ends there. */
  closedUp(places: readonly Place[]): readonly Place[] {
    const [first, last] = [places[0], places.at(-1)];
    const near = 1.5 * reach() * (this.#map.getView().getResolution() ?? 1);
    if (!first || !last || places.length < 4) return places;
    if (Math.hypot(first[0] - last[0], first[1] - last[1]) > near) return places;
    return [...places.slice(0, -1), first];
  }

  /** Takes the last corner back while a shape is being drawn. */
  takeBack(): void {
    this.#draw?.removeLastPoint();
  }

  #takeSnap(): void {
    this.#snap = new Snapping(
      (at, event) => (isFree(event) ? null : this.#near(at)),
      (at, found) => {
        this.#tell(found);
        if (this.#from) this.#events.moving(this.#from, at);
      },
    );
    this.#map.addInteraction(this.#snap);
  }

  #takeModify(): void {
    const shapes = [this.#areas, this.#shore].flatMap(
      (target) => target.getSource()?.getFeatures() ?? [],
    );
    const modify = new Modify({
      features: new Collection(shapes),
      pixelTolerance: SNAP,
      deleteCondition: never,
      style: new Style({
        image: new Circle({
          radius: 6,
          fill: new Fill({ color: this.#ink.accent }),
          stroke: line("#FFFFFF", 1.5),
        }),
      }),
    });
    modify.on("modifystart", ({ mapBrowserEvent }) => {
      const [x = 0, y = 0] = mapBrowserEvent?.coordinate ?? [];
      this.#from = [x, y];
      this.#before = new Map(shapes.map((one) => [one, ringsOf(one.getGeometry())]));
    });
    modify.on("modifyend", ({ features }) => {
      this.#from = null;
      for (const one of features.getArray()) {
        if (!(one instanceof Feature)) continue;
        const before = this.#before.get(one) ?? [];
        const old = new Set(before.flat().map(key));
        const now = ringsOf(one.getGeometry());
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
    if (this.#snap) this.#map.removeInteraction(this.#snap);
    this.#snap = null;
    this.#from = null;
    this.#tell(null);
    this.#draw = null;
    this.#modify = null;
    fill(this.#sketch, []);
  }

  /** Leaves the shape being drawn. */
  escape(): void {
    this.#draw?.abortDrawing();
    fill(this.#sketch, []);
  }

  /** Brings a place into the frame; `across` metres of it, when that is said. */
  goTo(at: Place, across?: number): void {
    const view = this.#map.getView();
    const size = this.#map.getSize();
    if (across && size?.[0]) {
      const half = across / 2;
      view.fit([at[0] - half, at[1] - half, at[0] + half, at[1] + half], { size });
      return;
    }
    const extent = view.calculateExtent(size);
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
