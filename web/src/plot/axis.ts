/** A linear scale from values to pixels. */
export interface Scale {
  (value: number): number;
  readonly domain: readonly [number, number];
}

/** Value → pixel. */
export function scale(domain: readonly [number, number], range: readonly [number, number]): Scale {
  const [d0, d1] = domain;
  const [r0, r1] = range;
  const slope = d1 === d0 ? 0 : (r1 - r0) / (d1 - d0);
  return Object.assign((value: number) => r0 + (value - d0) * slope, { domain });
}

/** Round ticks from zero up to a value, about so many of them; a step is 1, 2 or 5 tens. */
export function ticks(most: number, about: number): number[] {
  if (!(most > 0)) return [0];
  const rough = most / Math.max(1, about);
  const ten = 10 ** Math.floor(Math.log10(rough));
  const step = ten * ([1, 2, 5, 10].find((factor) => factor * ten >= rough * 0.999) ?? 10);
  const count = Math.floor(most / step + 1e-9);
  return Array.from({ length: count + 1 }, (_, i) => Number((i * step).toPrecision(12)));
}

/** An SVG path through points. */
export const path = (points: readonly (readonly [number, number])[]): string =>
  points.map(([x, y], i) => `${i ? "L" : "M"}${x.toFixed(1)} ${y.toFixed(1)}`).join("");
