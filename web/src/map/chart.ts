import type { Extent } from "ol/extent";
import Feature from "ol/Feature";
import type Geometry from "ol/geom/Geometry";
import LineString from "ol/geom/LineString";
import Point from "ol/geom/Point";
import { defaults as defaultInteractions } from "ol/interaction/defaults";
import KeyboardPan from "ol/interaction/KeyboardPan";
import OlMap from "ol/Map";
import Fill from "ol/style/Fill";
import Style from "ol/style/Style";
import View from "ol/View";
import type { DistanceView, MapView, ShapeView } from "../api/contract";
import type { Units } from "../units/units";
import { Carry } from "./carry";
import { discScale, medianSpacing } from "./discs";
import { feature, fill, layer } from "./features";
import { type Area, PLANE, readArea, readGeometry } from "./geometry";
import { hatch } from "./hatch";
import { letterMap } from "./letters";
import type { Course, SiteMark } from "./marks";
import { depthColour, distanceColour, type Ink } from "./palette";
import { arrow, canvasFonts, font, landmark, line, ringAround, site, words } from "./styles";

/** What the frame and the scale bar need to know of the view. */
export interface ViewState {
  readonly resolution: number;
  readonly centre: readonly [number, number];
  readonly size: readonly [number, number];
  /** The whole lake is in the frame, as at first. */
  readonly whole: boolean;
}

/** How the lake is drawn; changes only with the page. */
export interface ChartOptions {
  /** Depth is the subject, or lies quietly beneath something else. */
  readonly quiet: boolean;
  /** Room around the lake in pixels: top, right, bottom, left. */
  readonly padding: readonly [number, number, number, number];
  readonly landmarks: boolean;
  readonly treatments: boolean;
  readonly units: Units;
  /** Deep limit of the littoral zone; drawn where a contour follows it. */
  readonly limit: number | null;
  /** Distances to the nearest depth stand for the depths, hatched from one on. */
  readonly far: Far | null;
}

/** How far the water lies from any depth, and where that is far. */
export interface Far {
  readonly distances: DistanceView;
  /** Metres. */
  readonly beyond: number;
}

/** A way in metres of the working system. */
export interface Way {
  readonly from: readonly [number, number];
  readonly to: readonly [number, number];
}

export interface ChartEvents {
  view(state: ViewState): void;
  pickZone(code: string): void;
  pointZone(code: string | null): void;
  pickSite(code: string): void;
  /** A site was dragged here. */
  putSite(code: string, x: number, y: number): void;
  /** A place was pointed out for the site being carried. */
  putHere(x: number, y: number): void;
}

/** The lake on a canvas: water, zones, sites, lettering. Knows nothing of pages or tables. */
export class LakeChart {
  readonly #map: OlMap;
  readonly #layers = {
    water: layer(0),
    lines: layer(1),
    zones: layer(2),
    shore: layer(3),
    parts: layer(2.5),
    ways: layer(3.5),
    sites: layer(4),
    chosen: layer(5),
    way: layer(6),
    pointed: layer(7),
    places: layer(8),
    labels: layer(9, true),
    numbers: layer(9.5, true),
    names: layer(10),
  };
  #view: MapView | null = null;
  #water: Area | null = null;
  #options: ChartOptions | null = null;
  #ink: Ink;
  #sites: readonly SiteMark[] = [];
  #spacing = Number.POSITIVE_INFINITY;
  #chosen: string | null = null;
  #pointed: string | null = null;
  #chosenSite: string | null = null;
  #way: Way | null = null;
  #fitted: { resolution: number; x: number; y: number } | null = null;
  #lettered = 0;
  #reserved: readonly DOMRectReadOnly[] = [];
  #carrying = false;
  readonly #events: ChartEvents;

  constructor(target: HTMLElement, ink: Ink, events: ChartEvents) {
    this.#ink = ink;
    this.#events = events;
    this.#map = new OlMap({
      target,
      controls: [],
      layers: Object.values(this.#layers),
      interactions: defaultInteractions({
        onFocusOnly: true,
        altShiftDragRotate: false,
        pinchRotate: false,
      }),
      keyboardEventTarget: target,
    });
    this.#map.on("postrender", () => this.#tell());
    this.#map.on("moveend", () => this.#letter());
    this.#map.on("change:size", () => this.#refit());
    this.#map.addInteraction(
      new Carry(this.#layers.sites, {
        taken: (code) => this.#events.pickSite(code),
        over: (code, x, y) => this.#hang(code, x, y),
        put: (code, x, y) => this.#events.putSite(code, x, y),
      }),
    );
    this.#map.on("click", (event) => {
      if (this.#carrying) {
        const [x = 0, y = 0] = event.coordinate;
        this.#events.putHere(x, y);
        return;
      }
      const found = this.#map.forEachFeatureAtPixel(event.pixel, (f) => f.get("code") as string, {
        layerFilter: (candidate) => candidate === this.#layers.sites,
        hitTolerance: 6,
      });
      if (found) this.#events.pickSite(found);
      else {
        const zone = this.#zoneAt(event.coordinate);
        if (zone) this.#events.pickZone(zone);
      }
    });
    this.#map.on("pointermove", (event) => {
      if (!event.dragging) this.#events.pointZone(this.#zoneAt(event.coordinate));
    });
    void Promise.all(canvasFonts().map((name) => document.fonts.load(name, "0a"))).then(() => {
      this.#lettered = 0;
      this.#letter();
      this.#map.render();
    });
  }

  destroy(): void {
    this.#map.setTarget(undefined);
    this.#map.dispose();
  }

  /** The lake itself. */
  show(view: MapView, options: ChartOptions, ink: Ink): void {
    const same = this.#view === view;
    this.#view = view;
    this.#options = options;
    this.#ink = ink;
    this.#water = readArea(view.outline);
    this.#drawLake();
    if (!same) {
      const [west = 0, south = 0, east = 1, north = 1] = view.extent;
      const fitting = Math.max((east - west) / 200, (north - south) / 200);
      this.#map.setView(
        new View({
          projection: PLANE,
          center: [(west + east) / 2, (south + north) / 2],
          resolution: fitting / 3,
          maxResolution: fitting * 2,
          minResolution: 0.15,
          enableRotation: false,
          constrainResolution: false,
          smoothResolutionConstraint: false,
        }),
      );
      this.whole(false);
    }
    this.#redraw();
  }

  sites(marks: readonly SiteMark[]): void {
    this.#sites = marks;
    this.#spacing = medianSpacing(marks.map((mark) => [mark.x, mark.y]));
    this.#drawSites();
    this.#drawChosen();
  }

  /** Ways over the water, and the parts a layout cut. */
  plan(ways: readonly Course[], parts: readonly unknown[]): void {
    const first = new Style({ stroke: line(this.#ink.accent, 1.2) });
    const later = new Style({ stroke: line(this.#ink.accent, 1.2, [3, 2.2]) });
    fill(
      this.#layers.ways,
      ways.flatMap((way) =>
        feature(new LineString(way.line.map((at) => [...at])), way.later ? later : first),
      ),
    );
    const edge = new Style({ stroke: line(`${this.#ink.ink}99`, 0.6) });
    fill(
      this.#layers.parts,
      parts.flatMap((part) => feature(readGeometry(part), edge)),
    );
  }

  /** While a site is carried, the arrow keys are its own and a click says where. */
  carry(on: boolean): void {
    this.#carrying = on;
    for (const one of this.#map.getInteractions().getArray()) {
      if (one instanceof KeyboardPan) one.setActive(!on);
    }
  }

  choose(zone: string | null, chosenSite: string | null): void {
    this.#chosen = zone;
    this.#chosenSite = chosenSite;
    this.#redraw();
  }

  point(zone: string | null): void {
    if (this.#pointed === zone) return;
    this.#pointed = zone;
    const shape = this.#zone(zone);
    const edge = new Style({ stroke: line(this.#ink.accent, 1) });
    fill(this.#layers.pointed, shape ? feature(readGeometry(shape.geometry), edge) : []);
  }

  /** A way from one place to another, or none. */
  way(way: Way | null): void {
    this.#way = way;
    this.#drawWay();
  }

  /** Parts of the frame other things stand on, in pixels from its corner; no word goes there. */
  reserve(places: readonly DOMRectReadOnly[]): void {
    this.#reserved = places;
    this.#lettered = 0;
    this.#letter();
  }

  /** The whole lake in the frame. */
  whole(glide = true): void {
    const view = this.#map.getView();
    const extent = this.#view?.extent;
    if (!extent || !this.#map.getSize()) return;
    const [wide = 0, high = 0] = this.#map.getSize() ?? [];
    const [top, right, bottom, left] = this.#options?.padding ?? [20, 20, 20, 20];
    const most = { across: wide * 0.11, down: high * 0.1 };
    const padding = [
      Math.min(top, most.down),
      Math.min(right, most.across),
      Math.min(bottom, most.down),
      Math.min(left, most.across),
    ];
    const still = !glide || matchMedia("(prefers-reduced-motion: reduce)").matches;
    view.fit(extent, {
      padding,
      ...(still ? {} : { duration: 180 }),
      callback: () => this.#remember(),
    });
    if (still) this.#remember();
  }

  zoom(factor: number): void {
    const view = this.#map.getView();
    const resolution = view.getConstrainedResolution((view.getResolution() ?? 1) / factor);
    const still = matchMedia("(prefers-reduced-motion: reduce)").matches;
    if (still) view.setResolution(resolution);
    else view.animate({ resolution, duration: 140 });
  }

  /** The water, for whoever looks for a place on land. */
  get water(): Area | null {
    return this.#water;
  }

  extent(): Extent {
    return this.#map.getView().calculateExtent(this.#map.getSize());
  }

  #remember(): void {
    const view = this.#map.getView();
    const [x = 0, y = 0] = view.getCenter() ?? [];
    this.#fitted = { resolution: view.getResolution() ?? 1, x, y };
  }

  /** True after the reader went closer or elsewhere. */
  #moved(): boolean {
    const view = this.#map.getView();
    const [x = 0, y = 0] = view.getCenter() ?? [];
    const kept = this.#fitted;
    return (
      kept !== null &&
      (Math.abs((view.getResolution() ?? 1) / kept.resolution - 1) > 0.01 ||
        Math.hypot(x - kept.x, y - kept.y) > kept.resolution * 2)
    );
  }

  /** A frame that changes its size keeps the whole lake, unless the reader went closer. */
  #refit(): void {
    if (!this.#moved()) this.whole(false);
  }

  #tell(): void {
    const view = this.#map.getView();
    const [x = 0, y = 0] = view.getCenter() ?? [];
    const [width = 0, height = 0] = this.#map.getSize() ?? [];
    this.#events.view({
      resolution: view.getResolution() ?? 1,
      centre: [x, y],
      size: [width, height],
      whole: !this.#moved(),
    });
  }

  #zone(code: string | null): ShapeView | undefined {
    return code === null ? undefined : this.#view?.zones.find((zone) => zone.code === code);
  }

  #zoneAt(coordinate: number[]): string | null {
    if (this.#options?.quiet) return null;
    const here = this.#layers.zones.getSource()?.getFeaturesAtCoordinate(coordinate) ?? [];
    const codes = here.map((f) => f.get("code") as string | undefined);
    const plain = codes.find((code) => code && this.#zone(code)?.protection !== "conservation");
    return plain ?? codes.find((code) => code !== undefined) ?? null;
  }

  #drawLake(): void {
    const view = this.#view;
    const options = this.#options;
    if (!view || !options) return;
    const { quiet } = options;
    const ink = this.#ink;
    const ratio = window.devicePixelRatio || 1;
    const bands = view.bands.length;
    const outline = readGeometry(view.outline);
    // below the reference level a strip along the shore has fallen dry
    const dry = view.level_m < 0 && bands > 0;
    const flat = new Style({
      fill: new Fill({ color: dry ? ink.land : depthColour(0, 7, quiet) }),
    });
    fill(this.#layers.water, [
      ...feature(outline, flat),
      ...(options.far
        ? this.#distances(options.far, ratio)
        : view.bands.flatMap((band, index) => {
            const colour = depthColour(index, bands, quiet);
            const style = new Style({ zIndex: index, fill: new Fill({ color: colour }) });
            return feature(readGeometry(band.geometry), style);
          })),
    ]);
    const contour = new Style({
      stroke: line(quiet ? "#08306B55" : "#08306B70", quiet ? 0.4 : 0.5),
    });
    const limit = new Style({ stroke: line(ink.navy, quiet ? 0.9 : 1.3) });
    const sub = new Style({ stroke: line(`${ink.ink}73`, 0.55) });
    fill(this.#layers.lines, [
      ...(options.far
        ? []
        : view.contours.flatMap((c) => feature(readGeometry(c.geometry), contour))),
      ...(view.limit && options.limit !== null && !options.far
        ? feature(readGeometry(view.limit.geometry), limit)
        : []),
      ...(quiet
        ? []
        : view.sub_areas.flatMap((shape) => feature(readGeometry(shape.geometry), sub))),
    ]);
    const edge = new Style({ stroke: line(ink.ink, 1.1), fill: new Fill({ color: "#FFFFFF00" }) });
    const guarded = new Style({
      stroke: line(ink.ink, 1.1, [7, 2.5, 1.5, 2.5]),
      fill: new Fill({ color: hatch(ink.ink, "rising", ratio, 0.6) }),
    });
    const treated = new Style({
      stroke: line(ink.accent, 1.7),
      fill: new Fill({ color: hatch(ink.accent, "falling", ratio) }),
    });
    fill(this.#layers.zones, [
      ...(quiet
        ? []
        : view.zones.flatMap((zone) =>
            feature(
              readGeometry(zone.geometry),
              zone.protection === "conservation" ? guarded : edge,
              zone.code,
            ),
          )),
      ...(options.treatments
        ? view.treatments.flatMap((shape) => feature(readGeometry(shape.geometry), treated))
        : []),
    ]);
    const small = (this.#map.getSize()?.[0] ?? 400) < 200;
    fill(
      this.#layers.shore,
      feature(outline, new Style({ stroke: line(ink.ink, small ? 1 : 1.4) })),
    );
    fill(
      this.#layers.places,
      options.landmarks
        ? view.landmarks.flatMap((place) =>
            feature(new Point([place.x, place.y]), landmark(place.kind, ink)),
          )
        : [],
    );
  }

  /** The water by its distance to the nearest depth; each shape lies on the one before. */
  #distances({ distances, beyond }: Far, ratio: number): Feature<Geometry>[] {
    const bands = distances.bands.length;
    const hatched = new Style({
      zIndex: bands,
      fill: new Fill({ color: hatch(this.#ink.ink, "falling", ratio, 0.6) }),
    });
    return distances.bands.flatMap((band, index) => {
      const geometry = readGeometry(band.geometry);
      const colour = distanceColour(index, bands);
      const style = new Style({ zIndex: index, fill: new Fill({ color: colour }) });
      const first = beyond > 0 && Math.abs(band.from_m - beyond) < 1e-6;
      return feature(geometry, first ? [style, hatched] : style);
    });
  }

  #drawSites(): void {
    const ink = this.#ink;
    fill(
      this.#layers.sites,
      this.#sites.map((mark) => {
        const made = new Feature<Geometry>(new Point([mark.x, mark.y]));
        made.set("code", mark.code);
        made.set("movable", mark.movable ?? false);
        made.setStyle((_, resolution) => site(mark, discScale(this.#spacing / resolution), ink));
        return made;
      }),
    );
    fill(
      this.#layers.numbers,
      this.#sites.flatMap((mark) => {
        if (!mark.number) return [];
        const face = { font: font(11.5, 600), colour: ink.ink, halo: "#FFFFFFD9", haloWidth: 3 };
        const at = { dx: 7, dy: -8, align: "left" as const, zIndex: mark.radius > 4.2 ? 2 : 1 };
        return feature(new Point([mark.x, mark.y]), words({ text: mark.number, ...face, ...at }));
      }),
    );
  }

  /** The ring about the chosen site goes where it hangs. */
  #hang(code: string, x: number, y: number): void {
    const mark = this.#sites.find((one) => one.code === code);
    if (mark) fill(this.#layers.chosen, this.#ring({ ...mark, x, y }));
  }

  #drawWay(): void {
    if (!this.#way) {
      fill(this.#layers.way, []);
      return;
    }
    const { from, to } = this.#way;
    const { ring, shaft, head } = arrow(from, to, this.#ink);
    fill(this.#layers.way, [
      ...feature(new LineString([[...from], [...to]]), shaft),
      ...feature(new Point([...from]), ring),
      ...feature(new Point([...to]), head),
    ]);
  }

  #redraw(): void {
    this.#drawSites();
    this.#drawChosen();
    this.#drawWay();
    this.#lettered = 0;
    this.#letter();
  }

  #drawChosen(): void {
    const ink = this.#ink;
    const shape = this.#zone(this.#chosen);
    const geometry = shape ? readGeometry(shape.geometry) : null;
    const halo = new Style({ stroke: line(ink.paper, 5.2), zIndex: 0 });
    const edge = new Style({ stroke: line(ink.accent, 2.8), zIndex: 2 });
    const inner = new Style({ stroke: line(ink.accent, 0.9), zIndex: 1 });
    const inside = shape ? this.#inside(shape.code) : [];
    const chosenSite = this.#sites.find((mark) => mark.code === this.#chosenSite);
    fill(this.#layers.chosen, [
      ...inside.flatMap((sub) => feature(readGeometry(sub.geometry), inner)),
      ...feature(geometry, [halo, edge]),
      ...(chosenSite ? this.#ring(chosenSite) : []),
    ]);
  }

  #ring(mark: SiteMark): Feature<Geometry>[] {
    const made = new Feature<Geometry>(new Point([mark.x, mark.y]));
    made.setStyle((_, resolution) => {
      const scale = discScale(this.#spacing / resolution);
      return ringAround(Math.max(2.6, mark.radius * scale) + 4, this.#ink);
    });
    return [made];
  }

  #inside(zone: string): ShapeView[] {
    return this.#view?.sub_areas.filter((sub) => sub.zone === zone) ?? [];
  }

  /** All lettering, anew for this nearness. */
  #letter(): void {
    const view = this.#view;
    const options = this.#options;
    const water = this.#water;
    const resolution = this.#map.getView().getResolution();
    if (!view || !options || !water || !resolution || !this.#map.getSize()) return;
    if (this.#lettered === resolution) return;
    this.#lettered = resolution;
    const { names, labels } = letterMap({
      view,
      options,
      water,
      ink: this.#ink,
      resolution,
      frame: this.extent(),
      chosen: this.#chosen,
      reserved: this.#reserved,
    });
    fill(this.#layers.names, names);
    fill(this.#layers.labels, labels);
  }
}
