import { fetchPlace } from "../../api/client";
import type { Place } from "./board";

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

/** Whether two drawings have the same corners. */
export const same = (a: readonly Place[], b: readonly Place[]): boolean =>
  a.length === b.length && a.every((at, i) => at[0] === b[i]?.[0] && at[1] === b[i]?.[1]);
