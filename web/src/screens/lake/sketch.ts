import type { AddView } from "../../api/contract";

type Line = readonly (readonly number[])[];

/** Paths of a picture, y downwards. */
export interface Drawing {
  readonly viewBox: string;
  readonly shore: string;
  readonly lines: string;
  readonly points: readonly (readonly [number, number])[];
  /** Radius of a point. */
  readonly dot: number;
  /** Cells of a raster: corner and how deep, from 0 to 1. */
  readonly cells: readonly (readonly [x: number, y: number, share: number])[];
  /** Width and height of a cell. */
  readonly cell: readonly [number, number];
}

/** The shapes of a file over the shore, all of both in view; none when there is nothing to draw. */
export function drawing(file: AddView, shore: readonly Line[]): Drawing | null {
  const shapes = file.shapes as readonly Line[];
  // before the lake has a system of its own, places are degrees: a degree east is shorter
  const inDegrees = file.place === null;
  const middle = file.extent ? ((file.extent[1] ?? 0) + (file.extent[3] ?? 0)) / 2 : 0;
  const narrow = inDegrees ? Math.cos((middle * Math.PI) / 180) : 1;
  const home = inDegrees ? [] : shore;
  const all = [...home, ...shapes].flat();
  if (shapes.length === 0) return null;
  const xs = all.map((at) => (at[0] ?? 0) * narrow);
  const ys = all.map((at) => at[1] ?? 0);
  const least = (values: number[]) => values.reduce((a, b) => Math.min(a, b));
  const most = (values: number[]) => values.reduce((a, b) => Math.max(a, b));
  const [west, north] = [least(xs), most(ys)];
  const [width, height] = [most(xs) - west, north - least(ys)];
  const size = Math.max(width, height) || 1;
  // drawn in thousandths of the longer side, so that numbers stay short
  const place = (at: readonly number[]): readonly [number, number] => [
    round((1000 * ((at[0] ?? 0) * narrow - west)) / size),
    round((1000 * (north - (at[1] ?? 0))) / size),
  ];
  const path = (line: Line) => `M${line.map((at) => place(at).join(" ")).join("L")}`;
  const edge = 40;
  const [cellWide = 0, cellHigh = 0] = file.cell_size ?? [];
  const cell = [
    round((1000 * cellWide * narrow) / size + 0.3),
    round((1000 * cellHigh) / size + 0.3),
  ] as const;
  const deepest = Math.max(...file.cells.map((one) => one[2] ?? 0), 1e-9);
  const cells = file.cells.map((one) => {
    const [x, y] = place(one);
    const share = Math.max(0, (one[2] ?? 0) / deepest);
    return [round(x - cell[0] / 2), round(y - cell[1] / 2), share] as const;
  });
  const [w, h] = [(1000 * width) / size, (1000 * height) / size];
  return {
    viewBox: `${-edge} ${-edge} ${round(w + 2 * edge)} ${round(h + 2 * edge)}`,
    shore: home.map((ring) => `${path(ring)}Z`).join(""),
    lines: shapes
      .filter((line) => line.length > 1)
      .map(path)
      .join(""),
    points: shapes.filter((line) => line.length === 1).map((line) => place(line[0] ?? [])),
    dot: shapes.length > 400 ? 2.5 : 5,
    cells,
    cell,
  };
}

const round = (value: number): number => Math.round(value * 10) / 10;

/** Rings of a GeoJSON polygon or of several. */
export function rings(geometry: unknown): Line[] {
  const { type, coordinates } = (geometry ?? {}) as { type?: string; coordinates?: unknown };
  if (type === "Polygon") return coordinates as Line[];
  if (type === "MultiPolygon") return (coordinates as Line[][]).flat();
  return [];
}
