// Where words stand on the map: on land, off the shore line, off each other.
import type { Extent } from "ol/extent";
import type { Area } from "./geometry";

/** A rectangle in map metres. */
export type Box = readonly [west: number, south: number, east: number, north: number];

const overlaps = (a: Box, b: Box): boolean =>
  a[0] < b[2] && b[0] < a[2] && a[1] < b[3] && b[1] < a[3];

/** True when a box lies inside the frame. */
export const fitsIn = (box: Box, frame: Extent): boolean =>
  (frame[0] ?? 0) <= box[0] &&
  (frame[1] ?? 0) <= box[1] &&
  box[2] <= (frame[2] ?? 0) &&
  box[3] <= (frame[3] ?? 0);

/** True when nothing stands there yet. */
export const clear = (box: Box, taken: readonly Box[]): boolean =>
  !taken.some((other) => overlaps(box, other));

/** Share of a box that lies on water. */
export function waterShare(water: Area, box: Box, columns = 7, rows = 3): number {
  let wet = 0;
  for (let row = 0; row < rows; row++) {
    for (let column = 0; column < columns; column++) {
      const x = box[0] + ((box[2] - box[0]) * (column + 0.5)) / columns;
      const y = box[1] + ((box[3] - box[1]) * (row + 0.5)) / rows;
      if (water.intersectsCoordinate([x, y])) wet++;
    }
  }
  return wet / (columns * rows);
}

export type Align = "left" | "center" | "right";

/** Where a word stands beside a point: offset in pixels, y downwards, and how it is aligned. */
export interface Stand {
  readonly dx: number;
  readonly dy: number;
  readonly align: Align;
  readonly box: Box;
  /** Share of it on water. */
  readonly wet: number;
  /** False where every place is on water, on another word or outside. */
  readonly fits: boolean;
}

/** Offsets beside a mark of eight pixels' reach. */
const AROUND: readonly [number, number, Align][] = [
  [9, 0, "left"],
  [-9, 0, "right"],
  [0, -14, "center"],
  [0, 15, "center"],
  [8, -10, "left"],
  [8, 11, "left"],
  [-8, -10, "right"],
  [-8, 11, "right"],
];

/** The best place for a word of a size in pixels beside a point in metres; `further` off a wider mark. */
export function stand(
  point: readonly [number, number],
  size: { width: number; height: number },
  metresPerPixel: number,
  water: Area,
  frame: Extent,
  taken: readonly Box[],
  further = 0,
): Stand {
  // a place out on the water has no land beside it: its name stands on water too
  const reach = 6 * metresPerPixel;
  const [px, py] = point;
  const afloat = waterShare(water, [px - reach, py - reach, px + reach, py + reach]) === 1;
  let best: { cost: number; stand: Stand } | null = null;
  for (const [order, [nearX, nearY, align]] of AROUND.entries()) {
    const [dx, dy] = [nearX + Math.sign(nearX) * further, nearY + Math.sign(nearY) * further];
    const left = align === "left" ? dx : align === "right" ? dx - size.width : dx - size.width / 2;
    const box: Box = [
      point[0] + left * metresPerPixel,
      point[1] - (dy + size.height / 2) * metresPerPixel,
      point[0] + (left + size.width) * metresPerPixel,
      point[1] - (dy - size.height / 2) * metresPerPixel,
    ];
    const outside = !fitsIn(box, frame);
    const wet = waterShare(water, box);
    const cost =
      (afloat ? 0 : wet * 12) +
      (outside ? 20 : 0) +
      taken.filter((other) => overlaps(box, other)).length * 14 +
      order * 0.05;
    if (!best || cost < best.cost)
      best = { cost, stand: { dx, dy, align, box, wet, fits: cost < 6 } };
  }
  return best?.stand ?? { dx: 9, dy: 0, align: "left", box: [0, 0, 0, 0], wet: 0, fits: false };
}

/** A place on land for words that belong to a shape in the water, found by going outwards. */
export function onLand(
  from: readonly [number, number],
  size: { width: number; height: number },
  metresPerPixel: number,
  water: Area,
  frame: Extent,
  taken: readonly Box[],
): { at: [number, number]; box: Box } | null {
  for (let distance = 40; distance <= 260; distance += 14) {
    for (let turn = 0; turn < 24; turn++) {
      const angle = (turn * Math.PI) / 12;
      const x = from[0] + Math.cos(angle) * distance * metresPerPixel;
      const y = from[1] + Math.sin(angle) * distance * metresPerPixel;
      const w = (size.width / 2 + 4) * metresPerPixel;
      const h = (size.height / 2 + 3) * metresPerPixel;
      const box: Box = [x - w, y - h, x + w, y + h];
      if (fitsIn(box, frame) && waterShare(water, box) === 0 && clear(box, taken)) {
        return { at: [x, y], box };
      }
    }
  }
  return null;
}

export type Corner = "south-west" | "south-east" | "north-west" | "north-east";

/** Corners of the frame by how much water a block of that size would cover there, least first. */
export function corners(
  water: Area,
  frame: Extent,
  size: { width: number; height: number },
  metresPerPixel: number,
): { corner: Corner; share: number }[] {
  const [west = 0, south = 0, east = 0, north = 0] = frame;
  const w = size.width * metresPerPixel;
  const h = size.height * metresPerPixel;
  const boxes: [Corner, Box][] = [
    ["south-west", [west, south, west + w, south + h]],
    ["south-east", [east - w, south, east, south + h]],
    ["north-west", [west, north - h, west + w, north]],
    ["north-east", [east - w, north - h, east, north]],
  ];
  return boxes
    .map(([corner, box]) => ({ corner, share: waterShare(water, box, 18, 14) }))
    .sort((a, b) => a.share - b.share);
}
