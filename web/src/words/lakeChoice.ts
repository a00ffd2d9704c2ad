// Another level of the water, another rule, another littoral zone: from the address and in words.
import type { LakeView } from "../api/contract";
import type { Units } from "../units/units";
import { ruleWords } from "./lake";
import { brief, listed } from "./numbers";

/** Words of the address that change what is reckoned, in metres. */
export const CHOICES = [
  "level_m",
  "rule",
  "min_depth_m",
  "max_depth_m",
  "secchi_m",
  "regression",
] as const;
export type Choice = Partial<Record<(typeof CHOICES)[number], string>>;

/** What was chosen, by the address. */
export function choiceOf(get: (name: string) => string | null): Choice {
  const chosen: Choice = {};
  for (const name of CHOICES) {
    const value = get(name);
    if (value) chosen[name] = value;
  }
  return chosen;
}

/** The same as the words of a question; empty when nothing was chosen. */
export const question = (chosen: Choice): string => new URLSearchParams(chosen).toString();

/** Takes all that was chosen out of an address. */
export const NONE: Record<string, string> = Object.fromEntries(CHOICES.map((name) => [name, ""]));

/** Metres in an address: a tenth of a millimetre is enough. */
export const inAddress = (metres: number): string => String(Math.round(metres * 1e4) / 1e4);

/** What the figures hold for when they are not the book's own, in a sentence. */
export function choiceWords(chosen: Choice, lake: LakeView, datum: string, units: Units): string {
  const parts: string[] = [];
  const reference = datum || "the reference level";
  if (lake.level_m !== 0) {
    const side = lake.level_m < 0 ? "below" : "above";
    parts.push(`water ${units.depth(Math.abs(lake.level_m))} ${side} ${reference}`);
  }
  const littoral = lake.littoral;
  if (littoral && littoral.limit !== "depth-range") {
    const range = `${brief(units.depthIn(littoral.min_depth_m))} to ${units.depth(littoral.max_depth_m)}`;
    const from =
      littoral.secchi_m === null
        ? ""
        : `, its deep limit from a Secchi depth of ${units.depth(littoral.secchi_m)}`;
    parts.push(`a littoral zone of ${range}${from}`);
  }
  if (chosen.rule && lake.rule) parts.push(`volume as ${ruleWords(lake.rule)}`);
  return parts.length === 0 ? "" : `These figures hold for ${listed(parts)}.`;
}

/** How far a limit reckoned from Secchi depth may be off, in sentences; empty when it is not. */
export function secchiWords(lake: LakeView, units: Units): string {
  const { littoral } = lake;
  if (!littoral?.regression || littoral.secchi_m === null) return "";
  const others = littoral.other_regressions.map(
    (one) => `${units.depth(one.limit_m)} by ${REGRESSIONS[one.key] ?? one.key}`,
  );
  const upper =
    littoral.upper_limit_m === null
      ? ""
      : ` Plants were seen down to at most ${units.depth(littoral.upper_limit_m)} in water that clear.`;
  return `${littoral.regression.source}.${upper} The other regressions give ${listed(others)}.`;
}

/** Published regressions of the greatest depth of plants on Secchi depth, the usual one first. */
export const REGRESSIONS: Record<string, string> = {
  "caffrey-2007": "Caffrey and others 2007",
  "canfield-1985": "Canfield and others 1985",
  "chambers-kalff-1985": "Chambers and Kalff 1985",
};
