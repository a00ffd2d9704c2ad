// Layout of the depth strip: each site a disc above the line or a ring below it, stacked by depth.
import type { SiteMark } from "../map/marks";

export interface Dot {
  readonly mark: SiteMark;
  readonly x: number;
  /** From the line, upwards. */
  readonly y: number;
  readonly radius: number;
}

export interface Bar {
  readonly x: number;
  readonly width: number;
  readonly found: number;
  readonly notFound: number;
}

/** Laid out; `pixels` is the height of one site in a bar. */
export type Strip =
  | { readonly kind: "dots"; readonly above: Dot[]; readonly below: Dot[] }
  | { readonly kind: "bars"; readonly bars: Bar[]; readonly most: number; readonly pixels: number };

const RING = 2.2;

/** Stacks the marks in steps of depth; too many for dots become bars. */
export function strip(
  marks: readonly SiteMark[],
  step: number,
  x: (depth: number) => number,
  room: { above: number; below: number },
): Strip {
  const bins = new Map<number, { found: SiteMark[]; not: SiteMark[] }>();
  for (const mark of marks) {
    if (mark.depth_m === null || mark.kind === "not-reached") continue;
    const bin = Math.round(mark.depth_m / step);
    const entry = bins.get(bin) ?? { found: [], not: [] };
    (mark.kind === "found" ? entry.found : entry.not).push(mark);
    bins.set(bin, entry);
  }
  const stacks = [...bins.entries()].sort(([a], [b]) => a - b);
  const pitch = Math.abs(x(step) - x(0));
  const tallest = Math.max(
    0,
    ...stacks.map(([, bin]) => bin.found.reduce((sum, m) => sum + 2 * m.radius * 0.72 + 1, 0)),
  );
  const deepest = Math.max(0, ...stacks.map(([, bin]) => bin.not.length * (RING * 2 + 1)));
  const fit = Math.min(1, room.above / Math.max(1, tallest), (pitch * 1.25) / (2 * 8.6 * 0.72));
  const fitRings = Math.min(1, room.below / Math.max(1, deepest), pitch / (2 * RING));
  if (fit < 0.45 || fitRings < 0.6) {
    const bars = stacks.map(([bin, { found, not }]) => ({
      x: x(bin * step),
      width: Math.max(1.5, pitch - 1),
      found: found.length,
      notFound: not.length,
    }));
    const most = Math.max(1, ...bars.map((bar) => bar.found));
    const below = Math.max(1, ...bars.map((bar) => bar.notFound));
    // one scale for both sides of the line
    return { kind: "bars", bars, most, pixels: Math.min(room.above / most, room.below / below) };
  }
  const above = stacks.flatMap(([bin, { found }]) => {
    let y = 1;
    return [...found]
      .sort((a, b) => b.radius - a.radius)
      .map((mark): Dot => {
        const radius = Math.max(1.3, mark.radius * 0.72 * fit);
        const dot = { mark, x: x(bin * step), y: y + radius, radius };
        y += 2 * radius + 1;
        return dot;
      });
  });
  const below = stacks.flatMap(([bin, { not }]) =>
    not.map((mark, i): Dot => {
      const radius = RING * fitRings;
      return { mark, x: x(bin * step), y: (i + 0.5) * (2 * radius + 1) + 2, radius };
    }),
  );
  return { kind: "dots", above, below };
}
