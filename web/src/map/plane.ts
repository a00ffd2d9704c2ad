// The lake as plain SVG, for maps too small for a frame.
import { readArea } from "./geometry";

/** From metres of the working system to pixels of a small map. */
export interface Plane {
  readonly width: number;
  readonly height: number;
  x(east: number): number;
  y(north: number): number;
}

/** A plane of a width, with `room` pixels around the lake; as high as the lake asks for. */
export function plane(extent: readonly number[], width: number, room = 4, highest = 400): Plane {
  const [west = 0, south = 0, east = 1, north = 1] = extent;
  const across = Math.max(1, east - west);
  const down = Math.max(1, north - south);
  const factor = Math.min((width - 2 * room) / across, (highest - 2 * room) / down);
  const left = (width - across * factor) / 2;
  return {
    width,
    height: down * factor + 2 * room,
    x: (value) => (value - west) * factor + left,
    y: (value) => (north - value) * factor + room,
  };
}

/** Rings of an area as an SVG path; nothing when it is none. */
export function areaPath(geometry: unknown, on: Plane): string {
  const area = readArea(geometry);
  if (!area) return "";
  const polygons = area.getType() === "Polygon" ? [area.getCoordinates()] : area.getCoordinates();
  return (polygons as number[][][][])
    .flat()
    .map((ring) => {
      const points = ring.map(([x = 0, y = 0]) => `${on.x(x).toFixed(1)} ${on.y(y).toFixed(1)}`);
      return `M${points.join("L")}Z`;
    })
    .join("");
}
