// How alike two surveys are, in words made by rule.
import type { CommunityView, NoiseBandView, RatingChangeView } from "../api/contract";
import type { Units } from "../units/units";
import { pValue } from "./compare";
import { fixed, percent, spoken } from "./numbers";

/** `p = 0.03`, `p below 0.001`. */
export const pWords = (p: number): string => (p < 0.001 ? `p ${pValue(p)}` : `p = ${pValue(p)}`);

/** What the permutation test says, with its p; why there is none. */
export function communityWords(community: CommunityView): { lead: string; rest: string } {
  const { r, p } = community;
  if (r === null || p === null) {
    return {
      lead: "Cannot tell.",
      rest: `There is no test: ${spoken(community.why_not) || "no plants"}.`,
    };
  }
  const figure = `R = ${fixed(r, 2)}, ${pWords(p)}`;
  return p <= 0.05
    ? { lead: "The plants together changed", rest: `, more than chance makes them (${figure}).` }
    : {
        lead: "Cannot tell",
        rest: ` whether the plants together changed: no more than chance makes them (${figure}).`,
      };
}

/** A figure of the noise table in the reader's unit. */
export function noiseValue(
  band: NoiseBandView,
  value: number | null,
  units: Units,
  signed = false,
): string {
  if (value === null) return "";
  // a change too small for its digits has no sign
  const least =
    { "max-plant-depth": 0.01, "open-share": 0.005, species: 0.5 }[band.measure] ?? 0.005;
  const sign = signed && value >= least ? "+" : "";
  switch (band.measure) {
    case "max-plant-depth": {
      const depth = units.depthIn(value);
      return `${sign}${fixed(depth, 1)}\u00a0${units.depthUnit}`;
    }
    case "open-share":
      return `${sign}${percent(value)}`;
    case "species":
      return `${sign}${fixed(value)}`;
    default:
      return `${sign}${fixed(value, 2)}`;
  }
}

/** True for a similarity: it has no earlier and later, and lies below its band when beyond. */
export const isSimilarity = (band: NoiseBandView): boolean => band.measure.endsWith("similarity");

/** `more than ordinary`, `within the ordinary`, `not known`. */
export function noiseSays(band: NoiseBandView): string {
  if (band.beyond === null) return "not known";
  return band.beyond ? "more than ordinary" : "within the ordinary";
}

/** What ratings did: the effect and the test. */
export function ratingWords(rating: RatingChangeView): string {
  const test = rating.wilcoxon
    ? `Wilcoxon V = ${fixed(rating.wilcoxon.v, Number.isInteger(rating.wilcoxon.v) ? 0 : 1)}, ${pWords(rating.wilcoxon.p)}`
    : "";
  const effect =
    rating.effect === null
      ? ""
      : `${rating.effect_method} ${fixed(rating.effect, 2)}${
          rating.effect_low === null || rating.effect_high === null
            ? ""
            : ` (${fixed(rating.effect_low, 2)} to ${fixed(rating.effect_high, 2)})`
        }`;
  return [test, effect].filter((part) => part !== "").join("; ");
}
