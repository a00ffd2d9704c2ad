// All lettering of the map, made anew for each nearness.

import type { Extent } from "ol/extent";
import type Feature from "ol/Feature";
import type Geometry from "ol/geom/Geometry";
import LineString from "ol/geom/LineString";
import MultiLineString from "ol/geom/MultiLineString";
import Point from "ol/geom/Point";
import Style from "ol/style/Style";
import type { MapView } from "../api/contract";
import type { Units } from "../units/units";
import { brief } from "../words/numbers";
import { feature } from "./features";
import { type Area, readGeometry } from "./geometry";
import { type Box, clear, fitsIn, onLand, stand, waterShare } from "./lettering";
import { type Ink, lettering } from "./palette";
import { font, line, textScale, words } from "./styles";

/** What the words depend on. */
export interface Lettering {
  readonly view: MapView;
  readonly options: {
    readonly quiet: boolean;
    readonly landmarks: boolean;
    readonly units: Units;
    /** The depths are not what the map shows. */
    readonly far?: unknown;
  };
  readonly water: Area;
  readonly ink: Ink;
  /** Metres in a pixel. */
  readonly resolution: number;
  readonly frame: Extent;
  /** Code of the chosen zone. */
  readonly chosen: string | null;
  /** Where other things stand over the map, in pixels. */
  readonly reserved: readonly DOMRectReadOnly[];
}

/** Names, which find their own place, and labels, of which the map keeps those that have room. */
export function letterMap(on: Lettering): {
  names: Feature<Geometry>[];
  labels: Feature<Geometry>[];
} {
  const names: Feature<Geometry>[] = [];
  if (on.options.quiet) {
    if (on.options.landmarks) letterPlaces(on, [], names);
    return { names, labels: [] };
  }
  const taken = reservedBoxes(on);
  letterChosen(on, taken, names);
  taken.push(...codeBoxes(on, textScale()));
  letterPlaces(on, taken, names);
  letterGuarded(on, taken, names);
  return { names, labels: letterWater(on, taken) };
}

function reservedBoxes({ frame, reserved, resolution }: Lettering): Box[] {
  const [west = 0, , , north = 0] = frame;
  return reserved.map((place) => [
    west + (place.left - 4) * resolution,
    north - (place.bottom + 4) * resolution,
    west + (place.right + 4) * resolution,
    north - (place.top - 4) * resolution,
  ]);
}

/** Where codes and the deepest figure stand, which never move: names keep off them. */
export function codeBoxes(
  { view, chosen, resolution }: Pick<Lettering, "view" | "chosen" | "resolution">,
  scale: number,
): Box[] {
  const half = (letters: number): number => (4.5 * letters * scale + 2) * resolution;
  const height = 9 * scale * resolution;
  const box = ([x = 0, y = 0]: readonly number[], letters: number): Box => [
    x - half(letters),
    y - height,
    x + half(letters),
    y + height,
  ];
  const zones = view.zones.filter((zone) => zone.code !== chosen);
  const parts = view.sub_areas.filter((sub) => chosen !== null && sub.zone === chosen);
  return [
    ...parts.map((sub) => box(sub.label, 1)),
    ...zones.map((zone) => box(zone.label, zone.code.length)),
    ...(view.deepest ? [box(view.deepest, 2)] : []),
  ];
}

function letterChosen(on: Lettering, taken: Box[], out: Feature<Geometry>[]): void {
  const { resolution } = on;
  const shape = on.view.zones.find((zone) => zone.code === on.chosen);
  const geometry = shape ? readGeometry(shape.geometry) : null;
  if (!shape || !geometry) return;
  const { water } = on;
  const ink = on.ink;
  const name = `${shape.code} ${shape.name}`.trim();
  const [west = 0, south = 0, east = 0, north = 0] = geometry.getExtent();
  const half = (name.length * 3.9 * textScale() + 4) * resolution;
  const line = 13 * textScale() * resolution;
  const beside = half + 8 * resolution;
  const [mx, my] = [(west + east) / 2, (south + north) / 2];
  const frame = on.frame;
  const places = [
    [mx, north + line],
    [mx, south - line],
    [east + beside, my],
    [west - beside, my],
    [east - half, north + line],
    [west + half, north + line],
  ].map(([x = 0, y = 0], order) => {
    const box: Box = [x - half, y - 0.75 * line, x + half, y + 0.75 * line];
    const wet = waterShare(water, box);
    const cost =
      wet * 3 + (fitsIn(box, frame) ? 0 : 10) + (clear(box, taken) ? 0 : 6) + order * 0.1;
    return { at: [x, y], box, wet, cost };
  });
  const best = places.reduce((a, b) => (b.cost < a.cost ? b : a));
  taken.push(best.box);
  const halo = best.wet > 0.3 ? "#FFFFFFD9" : ink.land;
  const style = { text: name, font: font(14, 700), colour: ink.accent, halo, haloWidth: 5 };
  out.push(...feature(new Point(best.at), words(style)));
}

function letterPlaces(on: Lettering, taken: Box[], out: Feature<Geometry>[]): void {
  const { resolution, water } = on;
  const ink = on.ink;
  const pen = document.createElement("canvas").getContext("2d");
  const frame = on.frame;
  const rings = new Map<unknown, Box>();
  for (const place of on.view.landmarks) {
    const r = 8 * resolution;
    const ring: Box = [place.x - r, place.y - r, place.x + r, place.y + r];
    rings.set(place, ring);
    taken.push(ring);
  }
  for (const place of on.view.landmarks) {
    const isLaunch = place.kind === "launch";
    const face = isLaunch ? font(12, 600) : font(12, 400, true);
    if (pen) pen.font = face;
    const width = (pen?.measureText(place.name).width ?? 60) + 2;
    const others = taken.filter((box) => box !== rings.get(place));
    const size = { width, height: 16 * textScale() };
    // a triangle reaches further than a ring
    const wide = place.kind === "hazard" ? 3 : 0;
    const where = stand([place.x, place.y], size, resolution, water, frame, others, wide);
    // where there is no room now, there is closer up
    if (!where.fits) continue;
    taken.push(where.box);
    out.push(
      ...feature(
        new Point([place.x, place.y]),
        words({
          text: place.name,
          font: face,
          colour: ink.ink,
          halo: where.wet > 0.3 ? "#FFFFFFD9" : ink.land,
          align: where.align,
          dx: where.dx,
          dy: where.dy,
        }),
      ),
    );
  }
}

/** Names of conservation areas outside on a leader. */
function letterGuarded(on: Lettering, taken: Box[], out: Feature<Geometry>[]): void {
  const { resolution, water } = on;
  const ink = on.ink;
  const guarded = on.view.zones.filter((zone) => zone.protection === "conservation");
  for (const zone of guarded) {
    if (zone.code === on.chosen) continue;
    const text = `${zone.name || zone.code}\nconservation area`;
    const rows = text.split("\n");
    const width = Math.max(...rows.map((row) => row.length)) * 6.6 * textScale();
    const size = { width, height: rows.length * 16 * textScale() };
    const from: [number, number] = [zone.label[0] ?? 0, zone.label[1] ?? 0];
    const place = onLand(from, size, resolution, water, on.frame, taken);
    if (!place) {
      out.push(
        ...feature(
          new Point(from),
          words({ text, font: font(12, 600), colour: ink.ink, halo: "#FFFFFFCC" }),
        ),
      );
      continue;
    }
    taken.push(place.box);
    // the leader ends at the edge of the words
    const [x, y] = place.at;
    const [dx, dy] = [x - from[0], y - from[1]];
    const reach = Math.min(
      dx === 0 ? 1 : Math.abs((place.box[2] - place.box[0]) / 2 / dx),
      dy === 0 ? 1 : Math.abs((place.box[3] - place.box[1]) / 2 / dy),
      1,
    );
    const end = [x - dx * reach, y - dy * reach];
    out.push(
      ...feature(new LineString([from, end]), new Style({ stroke: line(ink.ink, 0.9) })),
      ...feature(
        new Point(place.at),
        words({ text, font: font(12, 600), colour: ink.ink, halo: ink.land, haloWidth: 3 }),
      ),
    );
  }
}

/** Zone codes, contour figures, the deepest sounding and sub-area numbers, the weightiest first. */
function letterWater(on: Lettering, taken: readonly Box[]): Feature<Geometry>[] {
  const { options, view } = on;
  const ink = on.ink;
  const bands = view.bands.length;
  const bandAt = (depth: number) =>
    Math.max(
      0,
      view.bands.findLastIndex((band) => band.from_m <= depth + 1e-6),
    );
  const out: Feature<Geometry>[] = [];
  const put = (at: number[], w: Parameters<typeof words>[0]) =>
    out.push(...feature(new Point(at), words(w)));
  if (view.deepest && !options.far) {
    const [x = 0, y = 0, depth = 0] = view.deepest;
    const { text, halo } = lettering(bandAt(depth), Math.max(1, bands), ink);
    const figure = brief(options.units.depthIn(depth), options.units.system === "us" ? 0 : 1);
    put([x, y], {
      text: figure,
      font: font(14, 700, true),
      colour: text,
      halo,
      haloWidth: 3,
      zIndex: 60,
    });
  }
  for (const zone of view.zones) {
    if (zone.code === on.chosen) continue;
    put(zone.label, {
      text: zone.code,
      font: font(14, 700),
      colour: ink.ink,
      halo: "#FFFFFFD9",
      zIndex: 50,
    });
  }
  if (on.chosen) {
    for (const sub of on.view.sub_areas.filter((sub) => sub.zone === on.chosen)) {
      const text = sub.code.replace(new RegExp(`^${on.chosen}\\W*`), "");
      put(sub.label, {
        text,
        font: font(11.5, 600),
        colour: ink.accent,
        halo: "#FFFFFFCC",
        haloWidth: 3,
        zIndex: 40,
      });
    }
  }
  for (const contour of options.far ? [] : view.contours) {
    const geometry = readGeometry(contour.geometry);
    if (!(geometry instanceof MultiLineString) && !(geometry instanceof LineString)) continue;
    const { text, halo } = lettering(bandAt(contour.depth_m), Math.max(1, bands), ink);
    const figure = brief(options.units.depthIn(contour.depth_m));
    const half = 9 * textScale() * on.resolution;
    for (const at of figurePlaces(geometry)) {
      const [x = 0, y = 0] = at;
      if (!clear([x - half, y - half, x + half, y + half], taken)) continue;
      put(at, {
        text: figure,
        font: font(12, 600),
        colour: text,
        halo,
        haloWidth: 3.5,
        zIndex: 10,
      });
    }
  }
  return out;
}

/** Three places along the longest line of a contour; the map keeps those that have room. */
function figurePlaces(geometry: LineString | MultiLineString): number[][] {
  const lines = geometry instanceof LineString ? [geometry] : geometry.getLineStrings();
  const longest = [...lines].sort((a, b) => b.getLength() - a.getLength())[0];
  return longest ? [0.12, 0.45, 0.78].map((share) => longest.getCoordinateAt(share)) : [];
}
