import { fetchPlace } from "../../api/client";
import type { Place } from "./board";
import { footOn } from "./snap";

/** The numbers of each line; a line without two numbers is left out. */
function rows(text: string): Place[] {
  return text
    .split("\n")
    .map((row) =>
      row
        .split(/[\s,;]+/)
        .filter(Boolean)
        .map(Number),
    )
    .filter((row) => row.length >= 2 && row.every(Number.isFinite))
    .map((row): Place => [row[0] ?? 0, row[1] ?? 0]);
}

/** Small enough to be latitude and longitude; metres of a working system never are. */
const degrees = (at: Place): boolean => Math.abs(at[0]) <= 90 && Math.abs(at[1]) <= 180;

/** Places typed one a line: latitude and longitude, or east and north in metres. */
export function readPlaces(text: string): Promise<Place[]> {
  return Promise.all(
    rows(text).map(async (at): Promise<Place> => {
      if (!degrees(at)) return at;
      const { x, y } = await fetchPlace({ latitude: at[0], longitude: at[1] });
      return [x, y];
    }),
  );
}

/** Longitude and latitude of the first place typed in degrees; null when none is. */
export function firstDegrees(text: string): Place | null {
  const found = rows(text).find(degrees);
  return found ? [found[1], found[0]] : null;
}

export const write = (at: Place): string => `${at[0].toFixed(2)}, ${at[1].toFixed(2)}`;

/** A ring as a GeoJSON polygon. */
export const polygon = (ring: readonly Place[]): unknown => ({
  type: "Polygon",
  coordinates: [[...ring, ring[0]]],
});

/** Area of a ring in the plane of the lake. */
export function ringArea(ring: readonly Place[]): number {
  const sum = ring.reduce((total, at, index) => {
    const next = ring[(index + 1) % ring.length] ?? at;
    return total + at[0] * next[1] - next[0] * at[1];
  }, 0);
  return Math.abs(sum) / 2;
}

/** Corners nearer than this are one; metres. */
const ONE = 0.01;

/** What an area, its rings open, measures when a corner of it moves, or one is put into its edge and moves; null
 *  when it has neither there. Its acreage goes by what it was, so that land in it stays left out. */
export function areaMoved(
  polygons: readonly (readonly (readonly Place[])[])[],
  area: number,
  from: Place,
  to: Place,
): number | null {
  const near = (a: Place, b: Place): boolean => Math.hypot(a[0] - b[0], a[1] - b[1]) < ONE;
  let found = false;
  const sum = (rings: readonly (readonly Place[])[]): number =>
    rings.reduce((total, ring, index) => total + (index === 0 ? 1 : -1) * ringArea(ring), 0);
  const moved = (ring: readonly Place[]): readonly Place[] => {
    if (ring.some((at) => near(at, from))) {
      found = true;
      return ring.map((at) => (near(at, from) ? to : at));
    }
    const edge = ring.findIndex((at, index) =>
      near(footOn(at, ring[(index + 1) % ring.length] ?? at, from), from),
    );
    if (edge < 0) return ring;
    found = true;
    return [...ring.slice(0, edge + 1), to, ...ring.slice(edge + 1)];
  };
  const before = polygons.reduce((total, rings) => total + sum(rings), 0);
  const now = polygons.reduce((total, rings) => total + sum(rings.map(moved)), 0);
  return found && before > 0 ? (area * now) / before : null;
}

/** Whether two drawings have the same corners. */
export const same = (a: readonly Place[], b: readonly Place[]): boolean =>
  a.length === b.length && a.every((at, i) => at[0] === b[i]?.[0] && at[1] === b[i]?.[1]);
