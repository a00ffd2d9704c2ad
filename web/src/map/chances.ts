// Colours of a map of chances, and of how unsure it is.

/** Ten stops of viridis, dark is small (van der Walt & Smith 2015). */
const VIRIDIS = [
  [0x44, 0x01, 0x54],
  [0x48, 0x28, 0x78],
  [0x3e, 0x4a, 0x89],
  [0x31, 0x68, 0x8e],
  [0x26, 0x82, 0x8e],
  [0x1f, 0x9e, 0x89],
  [0x35, 0xb7, 0x79],
  [0x6d, 0xcd, 0x59],
  [0xb4, 0xde, 0x2c],
  [0xfd, 0xe7, 0x25],
] as const;

/** Colour of a share of the ramp, 0 to 1; light is a small chance, dark a large one. */
export function chanceColour(share: number): string {
  // turned over: paper is light, so much must be dark
  const at = (1 - Math.max(0, Math.min(1, share))) * (VIRIDIS.length - 1);
  const low = Math.min(VIRIDIS.length - 2, Math.floor(at));
  const t = at - low;
  const [a, b] = [VIRIDIS[low] ?? VIRIDIS[0], VIRIDIS[low + 1] ?? VIRIDIS[0]];
  const mixed = [0, 1, 2].map((i) => Math.round((a[i] ?? 0) * (1 - t) + (b[i] ?? 0) * t));
  return `rgb(${mixed.join(" ")})`;
}

/** Grey of a standard error of a chance; 0.5, the largest there is, is darkest. */
export function unsureColour(error: number): string {
  const grey = Math.round(248 - 190 * Math.max(0, Math.min(1, error / 0.5)));
  return `rgb(${grey} ${grey} ${grey})`;
}

/** Marks of a legend for each of the two. */
export const CHANCE_MARKS = [0, 0.25, 0.5, 0.75, 1] as const;
export const UNSURE_MARKS = [0, 0.125, 0.25, 0.375, 0.5] as const;
