// Geometry of figures over the years.
import type { TrendPointView } from "../api/contract";

/** A closed path between lower and upper limits; where limits are unknown nothing is drawn. */
export function band(
  points: readonly { readonly x: number; readonly low: number; readonly high: number }[],
): string {
  if (points.length === 0) return "";
  const at = (x: number, y: number) => `${x.toFixed(1)} ${y.toFixed(1)}`;
  const over = points.map(({ x, high }) => at(x, high));
  const under = [...points].reverse().map(({ x, low }) => at(x, low));
  return `M${[...over, ...under].join("L")}Z`;
}

/** A survey that has a day and a share. */
export interface YearPoint {
  readonly survey: string;
  readonly year: number;
  readonly p: number;
  readonly low: number;
  readonly high: number;
  readonly fitted: number | null;
  readonly stretch: number;
  readonly leftOut: string;
}

/** Surveys that can be drawn, in the order of the years. */
export function yearPoints(surveys: readonly TrendPointView[]): YearPoint[] {
  return surveys
    .flatMap((one): YearPoint[] => {
      if (one.year === null || one.p === null) return [];
      const { survey, year, p, fitted, stretch, left_out } = one;
      return [
        {
          survey,
          year,
          p,
          low: one.low ?? p,
          high: one.high ?? p,
          fitted,
          stretch,
          leftOut: left_out,
        },
      ];
    })
    .sort((a, b) => a.year - b.year);
}

/** Runs of the model's curve: surveys of one stretch, with a share from the model. */
export function fittedRuns(points: readonly YearPoint[]): YearPoint[][] {
  const runs = new Map<number, YearPoint[]>();
  for (const point of points) {
    if (point.fitted === null) continue;
    const run = runs.get(point.stretch) ?? [];
    run.push(point);
    runs.set(point.stretch, run);
  }
  return [...runs.values()].filter((run) => run.length > 1);
}

/**
 * The model between two of its surveys: a straight line in log odds, drawn where it bends.
 * Shares of 0 and 1 have no log odds and are joined straight.
 */
export function logisticBetween(
  a: { readonly year: number; readonly p: number },
  b: { readonly year: number; readonly p: number },
  steps = 12,
): [number, number][] {
  const logit = (p: number) => Math.log(p / (1 - p));
  const [la, lb] = [logit(a.p), logit(b.p)];
  return Array.from({ length: steps + 1 }, (_, i) => {
    const t = i / steps;
    const year = a.year + t * (b.year - a.year);
    if (!Number.isFinite(la) || !Number.isFinite(lb)) return [year, a.p + t * (b.p - a.p)];
    return [year, 1 / (1 + Math.exp(-(la + t * (lb - la))))];
  });
}

/** Years in which nobody surveyed, between those in which somebody did: from and to, at least 1.5 years. */
export function gaps(points: readonly { readonly year: number }[]): { from: number; to: number }[] {
  return points.slice(1).flatMap((point, i) => {
    const before = points[i];
    return before && point.year - before.year > 1.5 ? [{ from: before.year, to: point.year }] : [];
  });
}

/** Halfway between the last survey before a break and the first after it. */
export function breakPlaces(points: readonly YearPoint[]): number[] {
  return points.slice(1).flatMap((point, i) => {
    const before = points[i];
    return before && before.stretch !== point.stretch ? [(before.year + point.year) / 2] : [];
  });
}

/** Calendar years to name on an axis of so many pixels, at least `apart` pixels from each other. */
export function yearTicks(from: number, to: number, pixels: number, apart: number): number[] {
  const first = Math.floor(from);
  const last = Math.floor(to);
  if (!(last >= first)) return [];
  const room = Math.max(1, Math.floor(pixels / apart));
  const step = [1, 2, 5, 10, 20, 50].find((years) => (last - first) / years < room) ?? 100;
  const start = step === 1 ? first : Math.ceil(first / step) * step;
  const marks: number[] = [];
  for (let year = start; year <= last; year += step) marks.push(year);
  return marks;
}
