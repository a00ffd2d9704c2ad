/** A GeoJSON area as an SVG path in a box; what is finer than half a pixel is left out. */
export function areaPath(
  geometry: unknown,
  extent: readonly number[],
  width: number,
  height: number,
): { d: string; at: (x: number, y: number) => readonly [number, number] } {
  const [west = 0, south = 0, east = 1, north = 1] = extent;
  const room = Math.min((width - 2) / (east - west), (height - 2) / (north - south));
  const left = (width - (east - west) * room) / 2;
  const top = (height - (north - south) * room) / 2;
  const at = (x: number, y: number) =>
    [left + (x - west) * room, height - top - (y - south) * room] as const;
  const parts: string[] = [];
  for (const ring of rings(geometry)) {
    let last: readonly [number, number] | null = null;
    let d = "";
    for (const [x = 0, y = 0] of ring) {
      const point = at(x, y);
      if (last && Math.hypot(point[0] - last[0], point[1] - last[1]) < 0.5) continue;
      d += `${last ? "L" : "M"}${point[0].toFixed(1)} ${point[1].toFixed(1)}`;
      last = point;
    }
    if (d) parts.push(`${d}Z`);
  }
  return { d: parts.join(""), at };
}

function rings(geometry: unknown): number[][][] {
  if (typeof geometry !== "object" || geometry === null || !("coordinates" in geometry)) return [];
  const { type, coordinates } = geometry as { type: string; coordinates: unknown };
  if (type === "Polygon") return coordinates as number[][][];
  if (type === "MultiPolygon") return (coordinates as number[][][][]).flat();
  return [];
}
