/** Narrow no-break space, before %. */
export const THIN = "\u202f";
/** No-break space, before a unit. */
export const GAP = "\u00a0";
/** True minus. */
export const MINUS = "\u2212";

/** Rounds half away from zero, as agencies do; binary noise in the 12th digit does not count. */
export function round(value: number, digits = 0): number {
  const scale = 10 ** digits;
  const scaled = Math.abs(value) * scale;
  const rounded = Math.floor(scaled + 0.5 + scaled * 1e-12);
  return value < 0 ? -rounded / scale || 0 : rounded / scale;
}

/** With a fixed number of digits, thousands parted, true minus. */
export function fixed(value: number, digits = 0): string {
  const rounded = round(value, digits);
  const text = Math.abs(rounded).toLocaleString("en-US", {
    minimumFractionDigits: digits,
    maximumFractionDigits: digits,
  });
  return rounded < 0 ? MINUS + text : text;
}

/** As few digits as say it: 15, 14.5. */
export const brief = (value: number, digits = 1): string =>
  fixed(value, Number.isInteger(round(value, digits)) ? 0 : digits);

/** A share as a number of hundredths: 0.2 → `20`. */
export const hundredths = (share: number): string => fixed(share * 100);

/** A share with its sign: 0.2 → `20 %`. */
export const percent = (share: number): string => `${hundredths(share)}${THIN}%`;

/** Limits of a share as numbers of hundredths: `13–30`. */
export const hundredthsRange = (low: number, high: number): string =>
  `${hundredths(low)}–${hundredths(high)}`;

/** A difference of shares in points with its sign: −0.56 → `−56`. */
export function points(difference: number): string {
  const rounded = round(difference * 100);
  return rounded > 0 ? `+${fixed(rounded)}` : fixed(rounded);
}

const SMALL = ["no", "one", "two", "three", "four", "five", "six", "seven", "eight", "nine", "ten"];
const ORDINARY = ["zero", ...SMALL.slice(1)];

/** A count inside a sentence: in words to ten, then in figures. */
export const inWords = (count: number): string => ORDINARY[count] ?? fixed(count);

/** `one site`, `two sites`, `no sites`. */
export const counted = (count: number, one: string, many = `${one}s`): string =>
  `${SMALL[count] ?? fixed(count)} ${count === 1 ? one : many}`;

/** A message of the program without the marks that set a value apart. */
export const spoken = (text: string): string => text.replaceAll("`", "");

/** First letter upper-case. */
export const sentenceCase = (text: string): string =>
  text.slice(0, 1).toUpperCase() + text.slice(1);

/** `a`, `a and b`, `a, b and c`. */
export function listed(words: readonly string[]): string {
  if (words.length < 2) return words.join("");
  return `${words.slice(0, -1).join(", ")} and ${words.at(-1)}`;
}
