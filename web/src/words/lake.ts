import type { LakeView } from "../api/contract";
import type { Units } from "../units/units";
import { fixed, THIN } from "./numbers";

/** A sentence in parts; the numbers are set heavier. */
export type Parts = readonly (string | { readonly figure: string })[];

/** The same as plain text, for a name. */
export const plain = (parts: Parts): string =>
  parts.map((part) => (typeof part === "string" ? part : part.figure)).join("");

/** The line under `How deep, and where?`. */
export function lakeAnswer(lake: LakeView, units: Units): Parts {
  const area = { figure: units.areaInWords(lake.area_m2) };
  if (lake.max_depth_m === null) {
    return [`${lake.name} covers `, area, ". How deep it is, this book does not know yet."];
  }
  const depth = { figure: units.depth(lake.max_depth_m) };
  const start = [`${lake.name} covers `, area, " and is ", depth, " at its deepest."];
  if (!lake.littoral) return start;
  return [
    ...start,
    " Plants can be looked for on the ",
    { figure: units.areaInWords(lake.littoral.area_m2) },
    ` shallower than ${units.depth(lake.littoral.max_depth_m)}.`,
  ];
}

/** Rows of `Measures of the whole lake`; what is not known is left out. */
export function lakeMeasures(lake: LakeView, units: Units): [string, string][] {
  const islands = lake.perimeter_m - lake.perimeter_outer_m;
  const rows: [string, string | null][] = [
    ["Area", units.area(lake.area_m2)],
    ["Mean depth", lake.mean_depth_m === null ? null : units.depth(lake.mean_depth_m)],
    ["Volume", lake.volume_m3 === null ? null : units.volume(lake.volume_m3)],
    ["Greatest depth", lake.max_depth_m === null ? null : units.depth(lake.max_depth_m)],
    ["Outer shore", units.longLength(lake.perimeter_outer_m)],
    ["Islands’ shores", lake.island_count === 0 ? null : units.longLength(islands)],
    ["Shore develop.", fixed(lake.shoreline_development, 2)],
    [
      lake.island_count === 1 ? "Island" : `Islands, ${lake.island_count}`,
      lake.island_count === 0
        ? null
        : units.area(lake.islands.reduce((sum, island) => sum + island.area_m2, 0)),
    ],
    ["Conservation", conservation(lake, units)],
    ["Longest reach", lake.max_length_m === null ? null : units.longLength(lake.max_length_m)],
    [
      "Relative depth",
      lake.relative_depth === null ? null : `${fixed(lake.relative_depth, 2)}${THIN}%`,
    ],
    ["Littoral zone", lake.littoral ? units.area(lake.littoral.area_m2) : null],
  ];
  return rows.filter((row): row is [string, string] => row[1] !== null);
}

function conservation(lake: LakeView, units: Units): string | null {
  const areas = lake.zones.filter((zone) => zone.protection === "conservation");
  return areas.length === 0 ? null : units.area(areas.reduce((sum, zone) => sum + zone.area_m2, 0));
}

export const RULES: Record<string, string> = {
  grid: "the sum of grid cells",
  frustum: "the cone formula, layer by layer",
  trapezoid: "the trapezoid rule, layer by layer",
  "raster-cells": "the cells of the raster under water",
};

/** How the volume was computed, in words. */
export const ruleWords = (rule: string): string => RULES[rule] ?? rule;
