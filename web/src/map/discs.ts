/** Smallest disc that is still seen on a map crowded with sites. */
export const FLOOR = 1.6;
const SMALLEST = 2.7;
const LARGEST = 8.6;
const FOUR = [2.7, 4.3, 6.3, 8.6] as const;

/** Radius in pixels of the disc for a step of a scale, counted from 1; area rises evenly. */
export function ratingRadius(rank: number, steps: number): number {
  if (steps <= 1) return 4.3;
  if (steps === 4) return FOUR[Math.max(0, Math.min(3, rank - 1))] ?? SMALLEST;
  const share = (Math.max(1, Math.min(steps, rank)) - 1) / (steps - 1);
  return Math.sqrt(SMALLEST ** 2 + share * (LARGEST ** 2 - SMALLEST ** 2));
}

/** Radius for a number of kinds; area in proportion. */
export const countRadius = (count: number): number => 3.25 * Math.sqrt(count);

/** Distance from each place to its nearest other, the middle one of them. */
export function medianSpacing(places: readonly (readonly [number, number])[]): number {
  const sample = places.slice(0, 400);
  const nearest = sample.map(([x, y], i) => {
    let best = Number.POSITIVE_INFINITY;
    for (const [j, [a, b]] of sample.entries()) {
      if (i !== j) best = Math.min(best, Math.hypot(a - x, b - y));
    }
    return best;
  });
  const known = nearest.filter(Number.isFinite).sort((a, b) => a - b);
  return known[Math.floor(known.length / 2)] ?? Number.POSITIVE_INFINITY;
}

/** How much discs grow or shrink so that neighbours just touch, within reason. */
export const discScale = (spacingInPixels: number): number =>
  Math.max(0.3, Math.min(1.25, spacingInPixels / 16.5));
