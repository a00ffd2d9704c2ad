import type { AddView, SkippedRowView } from "../api/contract";
import type { Units } from "../units/units";
import { counted, fixed, sentenceCase } from "./numbers";

/** What a file can hold, in the order a lake is made, and one of it. */
export const KINDS = [
  { key: "outline", name: "Shore", one: "shape" },
  { key: "depths", name: "Depths", one: "depth" },
  { key: "contours", name: "Contours", one: "contour" },
  { key: "zones", name: "Zones", one: "zone" },
  { key: "sub-areas", name: "Sub-areas", one: "sub-area" },
  { key: "landmarks", name: "Places", one: "place" },
] as const;

export type Kind = (typeof KINDS)[number]["key"];

/** What a file most likely holds by its name; nothing when the name does not say. */
export function kindOf(name: string): Kind | undefined {
  const hints: readonly [RegExp, Kind][] = [
    [/sub-?_?area/i, "sub-areas"],
    [/contour|isobath/i, "contours"],
    [/zone/i, "zones"],
    [/landmark|launch|hazard|place/i, "landmarks"],
    [/depth|sounding|bathy|sonar/i, "depths"],
    [/outline|shore|boundary|lake/i, "outline"],
    [/\.(tiff?|nmea|csv|tsv|txt|log)$/i, "depths"],
    [/\.(geojson|kml|kmz|shp|zip|gpx)$/i, "outline"],
  ];
  return hints.find(([pattern]) => pattern.test(name))?.[1];
}

/** What may be said of a file beside its bytes. */
export const FIELDS = {
  crs: "reference system of the file, such as EPSG:26915",
  unit: "unit of the depths",
  layer: "layer, or name of the lake in the file",
  depth_column: "column of the depth",
  code_column: "column of the code",
  name_column: "column of the name",
  surface: "elevation of the water, in the file's own unit",
} as const;
export type Field = keyof typeof FIELDS;

/** How depths were measured as the words of the address, from figures in the book's unit. */
export function dayWords(
  day: { level: string | number | null; side: string; transducer: string | number | null },
  units: Units,
): Record<string, string> {
  const words: Record<string, string> = {};
  const metres = (said: string | number | null): number =>
    said === "" || said === null ? Number.NaN : units.depthFrom(Number(said));
  const level = metres(day.level);
  const hung = metres(day.transducer);
  if (level > 0) words.water_level_m = String(day.side === "below" ? -level : level);
  if (hung > 0) words.transducer_m = String(hung);
  return words;
}

/** A way out that the program names: a button that sets a field to a value, or the field alone. */
export interface Offer {
  readonly field: Field | "fix";
  /** Nothing when the reader has to say it. */
  readonly value: string | null;
  readonly words: string;
}

const UNITS: Record<string, string> = { ft: "feet", m: "metres", cm: "centimetres" };

/** Ways out of what the program said about a file. */
export function offers(said: string): Offer[] {
  const found: Offer[] = [];
  const add = (field: Offer["field"], value: string | null, words: string): void => {
    if (!found.some((one) => one.field === field && one.value === value))
      found.push({ field, value, words });
  };
  if (said.includes("`--fix`")) add("fix", "true", "Correct it on the way in");
  for (const [, crs = ""] of said.matchAll(/--crs (EPSG:\w+)/g)) {
    if (/\d/.test(crs)) add("crs", crs, `Read it in ${crs}`);
    else add("crs", null, FIELDS.crs);
  }
  if (/--unit/.test(said)) {
    const one = /feet look|metres look|centimetres look/.test(said);
    const named = /--unit (ft|m|cm)\b/.exec(said)?.[1];
    const units = one && named ? [named] : ["ft", "m"];
    for (const unit of units) add("unit", unit, `Read the depths as ${UNITS[unit] ?? unit}`);
  }
  if (said.includes("--layer NAME") || said.includes("with `--layer`"))
    add("layer", null, FIELDS.layer);
  for (const field of ["depth_column", "code_column", "name_column"] as const)
    if (said.includes(`--${field.replace("_", "-")}`)) add(field, null, FIELDS[field]);
  if (said.includes("`--surface`")) add("surface", null, FIELDS.surface);
  return found;
}

/** What the program says about a file, without its name and the words of the command line. */
export function fileWords(text: string): string {
  const short = text
    .replace(/^`[^`]*\.\w+`:? ?/, "")
    .replace(/\n`[^`]*\.\w+`:? ?/g, "\n")
    .replace(/, or add `--fix` to have it corrected on the way in/, "")
    .replace(/: (say|add) `--(unit|crs)[^`]*`/g, "")
    .replace(/^(say|add) `--(unit|crs)[^`]*`$/g, "")
    .replace(
      /:? ?,? ?(and )?(say|name|choose)( it| its system| which| one of these| one| another column| the unit| the unit of this file)? with `--[^`]*`( or (the other one|`\w+`))?/g,
      "",
    )
    .replaceAll(" with `--surface`", " above")
    .replace(/, or name its column with `--[^`]*`/g, "")
    .replace(/`/g, "")
    .replace(/\nhint: /g, "; ")
    .replaceAll("\n", "; ")
    .replace(/^[;:,\s]+|[.;:,\s]+$/g, "");
  return short && `${sentenceCase(short)}.`;
}

/** What was read, in a sentence. */
export function readWords(view: AddView, units: Units): string {
  const one = KINDS.find((kind) => kind.key === view.kind)?.one ?? "row";
  const skipped = view.skipped.length;
  const taken = view.read - skipped;
  const parts = [
    skipped > 0
      ? `${fixed(taken)} of ${counted(view.read, one)} read`
      : `${counted(taken, one)} read`,
  ];
  if (view.depth_m) {
    const [least = 0, most = 0] = view.depth_m;
    parts.push(
      `${fixed(units.depthIn(least), 1)} to ${fixed(units.depthIn(most), 1)} ${units.depthWord} deep`,
    );
  }
  if (view.area_m2 !== null) parts.push(units.area(view.area_m2));
  if (view.crs) parts.push(view.crs === "EPSG:4326" ? "in degrees, WGS 84" : `in ${view.crs}`);
  return `${sentenceCase(parts.join(", "))}.`;
}

/** What was left out and why, alike reasons together. */
export function skippedWords(
  skipped: readonly SkippedRowView[],
): { reason: string; rows: string }[] {
  const by = new Map<string, number[]>();
  for (const { row, reason } of skipped) {
    by.set(reason, [...(by.get(reason) ?? []), row]);
  }
  return [...by].map(([reason, rows]) => {
    const shown = rows.slice(0, 6).map(String).join(", ");
    const more = rows.length > 6 ? ` and ${fixed(rows.length - 6)} more` : "";
    return {
      reason: fileWords(reason),
      rows: `${rows.length === 1 ? "row" : "rows"} ${shown}${more}`,
    };
  });
}
