// What the words of a page mean for the program: metres, square metres, names it knows.
import type { PlanAsk, RouteWords } from "../../api/contract";
import type { Units } from "../../units/units";
import { METRES_PER_FOOT, SQUARE_METRES_PER_ACRE } from "../../units/units";
import { type Chosen, isBlank, isWord, type Part } from "../../words/blanks";
import type { LayoutKey } from "../../words/layouts";

/** What the words of a sentence stand at; those left empty are left out. */
export function values(parts: readonly Part[], chosen: Chosen): Record<string, string> {
  const found: Record<string, string> = {};
  for (const part of parts) {
    if (!isWord(part) && !isBlank(part)) continue;
    const value = chosen(part.key) ?? part.usual;
    if (value !== "") found[part.key] = value;
  }
  return found;
}

/** A day as the program takes it: lengths and speeds with their unit. */
export function routeQuery(
  survey: string,
  sentence: readonly Part[],
  chosen: Chosen,
  units: Units,
): URLSearchParams {
  const said = values(sentence, chosen);
  const us = units.system === "us";
  const query = new URLSearchParams({ survey });
  const put = (name: string, value: string | undefined, unit = "") => {
    if (value) query.set(name, value + unit);
  };
  put("from", said.from);
  put("boats", said.boats);
  put("days", said.days);
  put("speed", said.speed, us ? "mph" : "km/h");
  if (Number(said.draft) > 0) put("draft", said.draft, units.depthUnit);
  if (said.pace === "own") put("minutes_per_site", said.minutes);
  put("date", said.date);
  put("start", said.start);
  put("back_by", said.by);
  put("rest", said.rest);
  if (said.order === "cleanest") put("cleanest_first", "true");
  return query;
}

/** The same as a body: counts as numbers, the rest as words. */
export function routeWords(query: URLSearchParams): Partial<RouteWords> {
  const words: Record<string, unknown> = {};
  for (const [name, value] of query) {
    if (name === "survey") continue;
    if (name === "boats" || name === "days" || name === "minutes_per_site") {
      words[name] = Number(value);
    } else words[name] = name === "cleanest_first" ? value === "true" : value;
  }
  return words as Partial<RouteWords>;
}

/** A layout as the program takes it. */
export function planAsk(
  layout: LayoutKey,
  parts: readonly Part[],
  chosen: Chosen,
  zones: readonly string[],
  units: Units,
): Partial<PlanAsk> {
  const said = values(parts, chosen);
  const us = units.system === "us";
  const far = us ? METRES_PER_FOOT : 1;
  const wide = us ? SQUARE_METRES_PER_ACRE : 10_000;
  const ask: Partial<PlanAsk> = { layout };
  const number = (text: string | undefined, factor = 1) =>
    text === undefined || !Number.isFinite(Number(text)) ? undefined : Number(text) * factor;
  const put = <Key extends keyof PlanAsk>(key: Key, value: PlanAsk[Key] | undefined) => {
    if (value !== undefined) ask[key] = value;
  };
  const whole = (text: string | undefined) => {
    const value = number(text);
    return value === undefined ? undefined : Math.round(value);
  };
  switch (layout) {
    case "point-grid":
      if (said.by === "spacing") put("spacing_m", number(said.spacing, far));
      else put("sites", whole(said.sites));
      if (said.turn === "best") put("best_rotation", true);
      else put("rotation_deg", number(said.turn));
      break;
    case "sub-areas":
      if (said.cut === "area") put("area_m2", number(said.area, wide));
      if (said.cut === "number") put("sites", whole(said.sites));
      break;
    case "shore-sections":
      put("length_m", number(said.length, far));
      put("at_landmarks", said.at_landmarks === "yes");
      if (said.beyond === "yes") put("area_m2", number(said.area, wide));
      break;
    case "squares":
      put("side_m", number(said.side, far));
      put("rotation_deg", number(said.turn));
      if (Number(said.merge) > 0) put("merge", number(said.merge));
      break;
    case "balanced":
      put("sites", whole(said.sites));
      put("spares", whole(said.spares));
      put("strata", said.strata);
      put("seed", whole(said.seed));
      break;
    case "panel":
      put("sites", whole(said.sites));
      put("every_year", whole(said.every_year));
      put("years", whole(said.years));
      put("seed", whole(said.seed));
      break;
    case "again":
      put("earlier", said.earlier);
      return ask;
  }
  if (Number(said.from_depth) > 0) put("min_depth_m", number(said.from_depth, far));
  put("max_depth_m", number(said.to_depth, far));
  if (zones.length > 0) put("zones", [...zones]);
  return ask;
}

/** Layouts that are compared, each with what lays about so many sites of it. */
export function comparedAsk(
  layout: string,
  sites: number,
  areaPerSite: number,
  shore: number,
): Partial<PlanAsk> | null {
  switch (layout) {
    case "point-grid":
    case "balanced":
    case "sub-areas":
      return { layout, sites };
    case "squares":
      return { layout, side_m: Math.sqrt(areaPerSite), merge: 0.5 };
    case "shore-sections":
      return { layout, length_m: shore / sites };
    default:
      return null;
  }
}

const PURPOSES: Record<string, string> = {
  richness: "baseline",
  estimate: "baseline",
  detect: "early-detection",
  treatment: "pre-treatment",
  delineate: "delineation",
};

/** The purpose of the survey, from what it must be able to do. */
export const surveyPurpose = (effort: string): string => PURPOSES[effort] ?? "baseline";
