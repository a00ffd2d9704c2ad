// A row of the sheet: what is typed, and the same as the book keeps it.

import type { EntrySiteView, ThrowBody, VisitBody, VisitEntry } from "../api/contract";
import type { Units } from "../units/units";
import { readBottom, readDepth, readOutcome, writeDepth, writeOutcome } from "./cells";
import type { Find, ThrowCell, ThrowReader } from "./throws";

/** Boxes of a row, left to right. */
export type Box = "depth" | "bottom" | `throw${number}` | "outcome";

export const throwBox = (number: number): Box => `throw${number}`;

export const throwNumber = (box: Box): number | null =>
  box.startsWith("throw") ? Number(box.slice(5)) : null;

/** What stands in the boxes of a row, as typed. */
export interface Typed {
  readonly depth: string;
  readonly bottom: string;
  readonly throws: readonly string[];
  readonly outcome: string;
}

export interface Row {
  readonly site: string;
  readonly landmark: string;
  readonly zone: string | null;
  readonly mapDepth: number | null;
  readonly spare: boolean;
  readonly typed: Typed;
  /** Parts of the visit that have no box here: time, position, who wrote it. */
  readonly beside: Partial<VisitBody>;
  /** The version of the book it stands on; none when the book has no visit. */
  readonly version: string | null;
}

/** Something in a box that could not be read. */
export interface Unread {
  readonly box: Box;
  readonly text: string;
  readonly why: string;
}

export const NOTHING: Typed = { depth: "", bottom: "", throws: [], outcome: "" };

export const textOf = (typed: Typed, box: Box): string => {
  const number = throwNumber(box);
  if (number !== null) return typed.throws[number - 1] ?? "";
  return typed[box as "depth" | "bottom" | "outcome"];
};

/** The same row with another text in one box. */
export function withText(typed: Typed, box: Box, text: string): Typed {
  const number = throwNumber(box);
  if (number === null) return { ...typed, [box]: text };
  const throws = [...typed.throws];
  while (throws.length < number) throws.push("");
  throws[number - 1] = text;
  while (throws.length > 0 && throws.at(-1) === "") throws.pop();
  return { ...typed, throws };
}

export const isBlank = (typed: Typed): boolean =>
  !typed.depth && !typed.bottom && !typed.outcome && typed.throws.every((text) => !text);

const WHY: Record<ThrowCell["slips"][number]["why"], string> = {
  "no plant": "is no plant on the lake's list",
  several: "may be more than one plant",
  twice: "stands here twice",
  "rating alone": "is a rating without a plant",
  "bare with plants": "says bare and names plants",
};

// What has no place in the record of a visit is kept in its note, in brackets, and put back into
// its box when the sheet is opened again: a throw that was not made, a box nobody could read.
const MARK = /\s*\[(depth|bottom|outcome|throw \d) not (read|made)(?:: ([^\]]*))?\]/g;
const mark = (what: string, text: string) => `[${what} not read: ${text.replace(/[[\]]/g, "")}]`;

function splitNote(note: string): { note: string; boxes: Map<string, string> } {
  const boxes = new Map<string, string>();
  for (const [, what = "", how, text = ""] of note.matchAll(MARK)) {
    boxes.set(what.replace(" ", ""), how === "made" ? "–" : text);
  }
  return { note: note.replace(MARK, "").trim(), boxes };
}

const observation = (find: Find) => ({ taxon: find.taxon, rating: find.rating, seen: find.seen });

function throwBody(number: number, cell: ThrowCell): ThrowBody {
  return { number, total: cell.total, observations: cell.finds.map(observation) };
}

/** Reads a row as the book keeps it; what could not be read is told and stays in its box. */
export function readRow(
  row: Pick<Row, "typed" | "beside">,
  reader: ThrowReader,
  units: Units,
): { visit: VisitBody; unread: Unread[] } {
  const { typed } = row;
  const unread: Unread[] = [];
  const marks: string[] = [];
  const depth = readDepth(typed.depth, units);
  if (!depth.ok) {
    unread.push({ box: "depth", text: typed.depth, why: depth.why });
    marks.push(mark("depth", typed.depth));
  }
  const bottom = readBottom(typed.bottom);
  if (!bottom.ok) {
    unread.push({ box: "bottom", text: typed.bottom, why: bottom.why });
    marks.push(mark("bottom", typed.bottom));
  }
  const throws: ThrowBody[] = [];
  typed.throws.forEach((text, index) => {
    const number = index + 1;
    const cell = reader.read(text);
    if (cell.kind === "not made") marks.push(`[throw ${number} not made]`);
    for (const slip of cell.slips) {
      unread.push({
        box: throwBox(number),
        text: slip.text,
        why: `\`${slip.text}\` ${WHY[slip.why]}`,
      });
    }
    if (cell.slips.length > 0) marks.push(mark(`throw ${number}`, text.trim()));
    // a box of nothing but riddles is no bare rake
    const says = cell.finds.length > 0 || cell.total !== null || cell.slips.length === 0;
    if (cell.kind === "thrown" && says) throws.push(throwBody(number, cell));
  });
  const { outcome, note } = readOutcome(typed.outcome);
  const thrown = throws.length > 0;
  if (outcome && thrown) {
    const why = "says why nothing was sampled, yet rake throws are written";
    const letters = writeOutcome({ outcome, note: "" });
    unread.push({ box: "outcome", text: typed.outcome, why: `\`${letters}\` ${why}` });
    marks.push(mark("outcome", letters));
  }
  const visit: VisitBody = {
    time: null,
    reported_species: null,
    reported_native_species: null,
    lon: null,
    lat: null,
    accuracy_m: null,
    observer: "",
    ...row.beside,
    depth_m: depth.ok ? depth.value : null,
    sediment: bottom.ok ? bottom.value : null,
    not_sampled: thrown ? null : outcome,
    throws,
    note: [note, ...marks].filter(Boolean).join(" "),
  };
  return { visit, unread };
}

/** A visit of the book as it stands in the boxes. */
export function typedOf(visit: VisitBody, reader: ThrowReader, units: Units): Typed {
  const { note, boxes } = splitNote(visit.note);
  const most = Math.max(
    0,
    ...visit.throws.map((one) => one.number),
    ...[...boxes.keys()].map((box) => throwNumber(box as Box) ?? 0),
  );
  const throws = Array.from({ length: most }, (_, index) => {
    const kept = boxes.get(throwBox(index + 1));
    if (kept !== undefined) return kept;
    const found = visit.throws.find((one) => one.number === index + 1);
    if (!found) return "";
    const finds = found.observations.map((one) => ({
      taxon: one.taxon,
      rating: one.rating,
      seen: one.seen === "visual" ? ("visual" as const) : ("rake" as const),
    }));
    return reader.write({ kind: "thrown", total: found.total, finds });
  });
  return {
    depth: boxes.get("depth") ?? writeDepth(visit.depth_m, units),
    bottom: boxes.get("bottom") ?? visit.sediment ?? "",
    throws,
    outcome: [boxes.get("outcome") ?? writeOutcome({ outcome: visit.not_sampled, note: "" }), note]
      .filter(Boolean)
      .join(" "),
  };
}

const beside = (visit: VisitBody): Partial<VisitBody> => {
  const { depth_m: _, sediment: __, not_sampled: ___, throws: ____, note: _____, ...rest } = visit;
  return rest;
};

/** Rows of a survey in the order of the sheets; visits of sites nobody planned stand last. */
export function rowsOf(
  sites: readonly EntrySiteView[],
  visits: readonly VisitEntry[],
  reader: ThrowReader,
  units: Units,
): Row[] {
  const bySite = new Map(visits.map((visit) => [visit.site, visit]));
  const row = (site: EntrySiteView): Row => rowOf(site, bySite.get(site.code), reader, units);
  const known = new Set(sites.map((site) => site.code));
  const strays = visits
    .filter((visit) => !known.has(visit.site))
    .map((visit) => newSite(visit.site));
  return [...sites, ...strays].map(row);
}

/** A site typed as it comes. */
export const newSite = (code: string): EntrySiteView => ({
  code,
  dropped: null,
  landmark: "",
  zone: null,
  sub_area: null,
  lon: null,
  lat: null,
  map_depth_m: null,
  spare: false,
});

export function rowOf(
  site: EntrySiteView,
  entry: VisitEntry | null | undefined,
  reader: ThrowReader,
  units: Units,
): Row {
  return {
    site: site.code,
    landmark: site.landmark,
    zone: site.zone,
    mapDepth: site.map_depth_m,
    spare: site.spare,
    typed: entry ? typedOf(entry.visit, reader, units) : NOTHING,
    beside: entry ? beside(entry.visit) : {},
    version: entry?.version ?? null,
  };
}
