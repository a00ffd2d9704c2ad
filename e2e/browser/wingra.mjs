// Lake Wingra, Wisconsin: contours digitised from the state's lake map by the North Temperate Lakes
// Long-Term Ecological Research programme (open data, CC BY 4.0), read where they lie, and the
// projection they are drawn in, worked out here so that the program is checked against another way.
import { existsSync, readFileSync } from "node:fs";
import { dirname, join } from "node:path";
import { fileURLToPath } from "node:url";

const root = join(dirname(fileURLToPath(import.meta.url)), "../..");
const folder = join(
  process.env.QUILLWORT_OPEN_DATA ?? join(root, "../shared/data"),
  "wingra-wi/bathymetry-contours",
);
export const isHere = () => existsSync(join(folder, "wingra-contours-all.shp"));

/** The rings with their depth in feet: `[{ feet, ring: [[x, y], …] }]`, metres of EPSG:3071. */
export function rings() {
  const bytes = readFileSync(join(folder, "wingra-contours-all.shp"));
  const table = readFileSync(join(folder, "wingra-contours-all.dbf"));
  // dBase III: the header's length at 8, a record's at 10, a field's description every 32 from 32
  const [header, record] = [table.readUInt16LE(8), table.readUInt16LE(10)];
  let offset = 1;
  let depth = null;
  for (let at = 32; table[at] !== 0x0d; at += 32) {
    const name = table.subarray(at, at + 11).toString("latin1").replace(/\0.*$/s, "");
    if (name === "Depth_ft") depth = [offset, table[at + 16]];
    offset += table[at + 16];
  }
  const found = [];
  // ESRI shapefile, technical description (1998): records from byte 100, polygons of kind 5
  for (let at = 100, row = 0; at < bytes.length; row++) {
    const length = 2 * bytes.readInt32BE(at + 4);
    const body = bytes.subarray(at + 8, at + 8 + length);
    at += 8 + length;
    const parts = body.readInt32LE(36);
    const points = body.readInt32LE(40);
    if (body.readInt32LE(0) !== 5 || parts !== 1) throw new Error("a polygon of one ring is expected");
    const start = 44 + 4 * parts;
    const ring = Array.from({ length: points }, (_, i) => [
      body.readDoubleLE(start + 16 * i),
      body.readDoubleLE(start + 16 * i + 8),
    ]);
    const from = header + row * record + depth[0];
    const feet = Number(table.subarray(from, from + depth[1]).toString("latin1"));
    found.push({ feet, ring: ring.slice(0, -1) });
  }
  return found;
}

// GRS 80
const A = 6_378_137;
const F = 1 / 298.257222101;
const N = F / (2 - F);
const RADIUS = (A / (1 + N)) * (1 + N ** 2 / 4 + N ** 4 / 64);
const DEGREE = Math.PI / 180;
/** Wisconsin Transverse Mercator, EPSG:3071. */
const WTM = { lon: -90, scale: 0.9996, east: 520_000, north: -4_480_000 };
export const WTM_SCALE_AT = (x) => WTM.scale * (1 + ((x - WTM.east) / (WTM.scale * RADIUS)) ** 2 / 2);

/** Longitude and latitude of a place in EPSG:3071: the series of Krüger (1912) to the third power. */
export function degrees([x, y]) {
  const xi = (y - WTM.north) / (WTM.scale * RADIUS);
  const eta = (x - WTM.east) / (WTM.scale * RADIUS);
  const beta = [
    N / 2 - (2 / 3) * N ** 2 + (37 / 96) * N ** 3,
    N ** 2 / 48 + N ** 3 / 15,
    (17 / 480) * N ** 3,
  ];
  const sum = (start, of) => beta.reduce((total, b, i) => total - b * of(2 * (i + 1)), start);
  const xi1 = sum(xi, (j) => Math.sin(j * xi) * Math.cosh(j * eta));
  const eta1 = sum(eta, (j) => Math.cos(j * xi) * Math.sinh(j * eta));
  const chi = Math.asin(Math.sin(xi1) / Math.cosh(eta1));
  const delta = [
    2 * N - (2 / 3) * N ** 2 - 2 * N ** 3,
    (7 / 3) * N ** 2 - (8 / 5) * N ** 3,
    (56 / 15) * N ** 3,
  ];
  const lat = delta.reduce((total, d, i) => total + d * Math.sin(2 * (i + 1) * chi), chi);
  const lon = WTM.lon * DEGREE + Math.atan2(Math.sinh(eta1), Math.cos(xi1));
  return [lon / DEGREE, lat / DEGREE];
}

/** Area of a ring in its own plane. */
export const ringArea = (ring) =>
  Math.abs(
    ring.reduce((sum, [x, y], i) => {
      const [x2, y2] = ring[(i + 1) % ring.length];
      return sum + x * y2 - x2 * y;
    }, 0) / 2,
  );

/** Area on the ellipsoid: the plane's by the square of its scale there. */
export const area = (ring) =>
  ringArea(ring) / WTM_SCALE_AT(ring.reduce((sum, [x]) => sum + x, 0) / ring.length) ** 2;

/**
 * What a person clicks to follow a ring: no two corners closer than `apart`, bends of less than `bend`
 * left out, and no creek that is narrower than `apart`.
 */
export function traced(ring, apart, bend) {
  let line = ring;
  const far = ([x, y], [x2, y2]) => Math.hypot(x - x2, y - y2);
  // a creek goes up one bank and comes down the other
  for (let i = 0; i < line.length && ringArea(ring) > 100 * apart * apart; i++) {
    for (let j = Math.min(line.length - 1, i + 24); j > i + 1; j--) {
      const piece = line.slice(i, j + 1);
      if (far(line[i], line[j]) < apart && ringArea(piece) < 12 * apart * apart) {
        line = [...line.slice(0, i + 1), ...line.slice(j + 1)];
        break;
      }
    }
  }
  const kept = [line[0]];
  for (let i = 1; i < line.length; i++) {
    const from = kept.at(-1);
    const next = line[i + 1] ?? line[0];
    const [dx, dy] = [next[0] - from[0], next[1] - from[1]];
    const off =
      Math.abs(dx * (line[i][1] - from[1]) - dy * (line[i][0] - from[0])) / Math.hypot(dx, dy);
    if (far(from, line[i]) > apart && (off > bend || far(from, line[i]) > 6 * apart)) {
      kept.push(line[i]);
    }
  }
  while (kept.length > 3 && far(kept.at(-1), kept[0]) < apart) kept.pop();
  return kept;
}
