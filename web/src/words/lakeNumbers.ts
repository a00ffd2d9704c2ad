// Figures of the lake that stand below its map: wind, slope, and how far the nearest depth is.
import type { DatumDistanceView, FetchView, LakeView, SlopeView } from "../api/contract";
import type { Units } from "../units/units";
import { brief, fixed, percent, THIN } from "./numbers";

/** A direction, how far it goes, and which way that is on paper. */
export interface FetchRow {
  readonly name: string;
  readonly length_m: number;
  readonly east: number;
  readonly north: number;
}

/** The four directions; a bearing and its opposite have one fetch. */
export function fetchRows(fetch: FetchView): FetchRow[] {
  const half = Math.SQRT1_2;
  return [
    { name: "north – south", length_m: fetch.n, east: 0, north: 1 },
    { name: "northeast – southwest", length_m: fetch.ne, east: half, north: half },
    { name: "east – west", length_m: fetch.e, east: 1, north: 0 },
    { name: "southeast – northwest", length_m: fetch.se, east: half, north: -half },
  ];
}

/** A slope of the bed, per cent. */
export const slope = (value: number): string => `${fixed(value, 1)}${THIN}%`;

/** A part of the bed and how steep it is. */
export interface SlopeRow {
  readonly name: string;
  readonly slope: SlopeView | null;
}

/** A range of depths in the book's unit: `5–10 ft`, `over 30 ft`. */
export function depthRange(from_m: number, to_m: number | null, units: Units): string {
  if (to_m === null) return `over ${units.depth(from_m)}`;
  return `${brief(units.depthIn(from_m))}–${units.depth(to_m)}`;
}

/** Slopes by depth; the deepest band goes to the bottom. */
export const slopeRows = (lake: LakeView, units: Units): SlopeRow[] =>
  lake.slope_by_depth.map((band) => ({
    name: depthRange(band.from_m, band.to_m, units),
    slope: band.slope,
  }));

/** `within 50 ft`, `50 to 100 ft`, `over 200 ft`. */
export function distanceRange(from_m: number, to_m: number | null, units: Units): string {
  if (to_m === null) return from_m === 0 ? "everywhere" : `over ${short(from_m, units)}`;
  if (from_m === 0) return `within ${short(to_m, units)}`;
  return `${brief(units.depthIn(from_m))} to ${short(to_m, units)}`;
}

/** A distance on the water, short ones with a digit. */
export const short = (metres: number, units: Units): string =>
  units.depthIn(metres) < 10 ? units.depth(metres) : units.length(metres);

/** How far the water lies from a depth, in two sentences. */
export function nearestWords(far: DatumDistanceView, units: Units): string {
  const half = short(far.median_m, units);
  const most = short(far.p95_m, units);
  return `Half the lake lies within ${half} of a depth that was measured, 95 parts in 100 within ${most}. The farthest place is ${short(far.most_m, units)} from one.`;
}

/** A place in degrees: `46.1234° N, 90.5678° W`. */
export function degrees([east = 0, north = 0]: readonly number[]): string {
  const side = (value: number, plus: string, minus: string): string =>
    `${Math.abs(value).toFixed(4)}°\u00a0${value < 0 ? minus : plus}`;
  return `${side(north, "N", "S")}, ${side(east, "E", "W")}`;
}

/** A share of the lake; a little is not nothing. */
function share(area: number, whole: number): string {
  if (whole <= 0) return "";
  return area > 0 && area / whole < 0.005 ? `under 1${THIN}%` : percent(area / whole);
}

/** Rows of the table of distances: how far, how much water, what share of the lake. */
export function distanceRows(
  far: DatumDistanceView,
  units: Units,
): { name: string; area: string; share: string }[] {
  const whole = far.bands.reduce((sum, band) => sum + band.area_m2, 0);
  return far.bands.map((band) => ({
    name: distanceRange(band.from_m, band.to_m, units),
    area: fixed(units.areaIn(band.area_m2), 1),
    share: share(band.area_m2, whole),
  }));
}

const METHODS: Record<string, string> = {
  "leave-one-out": "leaving out one depth at a time",
  "leave-one-contour-out": "leaving out one contour at a time",
};

/** How far off the depth model is, a line each: what it is, the figure. */
export function modelRows(lake: LakeView, units: Units): [string, string][] {
  const rows: [string, string][] = [];
  if (lake.interpolation) rows.push(["Between the depths", lake.interpolation]);
  if (lake.error) {
    rows.push(["Off by, on average", finer(lake.error.mean_m, units)]);
    rows.push(["95 in 100 within", finer(lake.error.p95_m, units)]);
    rows.push(["Found by", METHODS[lake.error.method] ?? lake.error.method]);
  }
  const other = lake.interpolation_not_taken;
  if (other) rows.push([`${other.method} instead`, `off by ${finer(other.mean_m, units)}`]);
  if (lake.soundings > 0) rows.push(["Depths it rests on", fixed(lake.soundings)]);
  return rows;
}

/** A small depth with two digits, as an error needs. */
const finer = (metres: number, units: Units): string =>
  `${fixed(units.depthIn(metres), units.depthIn(metres) < 1 ? 2 : 1)}\u00a0${units.depthUnit}`;
