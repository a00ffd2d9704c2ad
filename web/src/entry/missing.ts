// What is still missing, as notes in the margin: what the boxes do not say, and what the check says.
import type { CheckView } from "../api/contract";
import type { Units } from "../units/units";
import { writeDepth } from "./cells";
import { isEntered } from "./progress";
import type { Box, Row, Unread } from "./rows";

/** What a note offers to do about it. */
export interface Repair {
  readonly words: string;
  readonly act:
    | { readonly kind: "go"; readonly box: Box }
    | { readonly kind: "put"; readonly box: Box; readonly text: string };
}

export interface MissingNote {
  /** Stable while the find stands. */
  readonly id: string;
  readonly site: string | null;
  readonly box: Box | null;
  readonly message: string;
  /** Why it matters, or how to settle it. */
  readonly remedy: string;
  readonly severity: "fault" | "doubt";
  readonly repairs: readonly Repair[];
  /** The check's own find, which may be confirmed or left open. */
  readonly find: CheckView | null;
}

/** Kinds of the check that are told together, or by the row itself. */
const TOLD_BY_ROW = new Set(["no-visit"]);

const BOX_OF: Readonly<Record<string, Box>> = {
  "missing-depth": "depth",
  "deeper-than-lake": "depth",
  "depth-off-map": "depth",
  "no-reason": "outcome",
};

function boxOf(find: CheckView): Box | null {
  const known = BOX_OF[find.kind];
  if (known) return known;
  const named = /throw `?(\d)`?/.exec(find.message);
  return named ? `throw${Number(named[1])}` : null;
}

function repairsOf(find: CheckView, box: Box | null, row: Row | undefined, units: Units): Repair[] {
  const repairs: Repair[] = [];
  if (row && box === "depth" && row.mapDepth !== null && find.kind !== "missing-depth") {
    const text = writeDepth(Math.round(units.depthIn(row.mapDepth) * 2) / 2, METRES);
    const typed = Number(row.typed.depth);
    // a slipped point: 125 for 12.5
    const slipped = typed / 10;
    const near = Math.abs(slipped - units.depthIn(row.mapDepth));
    const value = near < 0.25 * units.depthIn(row.mapDepth) + 1 ? String(slipped) : text;
    if (find.kind === "deeper-than-lake" || value !== text) {
      repairs.push({ words: `Make it ${value}`, act: { kind: "put", box, text: value } });
    }
  }
  if (row && box?.startsWith("throw") && /blank|not written|no such throw/.test(find.message)) {
    repairs.push({ words: "Bare", act: { kind: "put", box, text: "0" } });
    repairs.push({ words: "Not thrown", act: { kind: "put", box, text: "–" } });
  }
  if (row || find.where === "header")
    repairs.push({ words: "Go there", act: { kind: "go", box: box ?? "depth" } });
  return repairs;
}

const METRES = { depthIn: (value: number) => value } as Units;

/** Every note, faults first, those of rows in the order of the sheets. */
export function missingNotes(
  rows: readonly Row[],
  finds: readonly CheckView[],
  unread: (row: Row) => readonly Unread[],
  units: Units,
  throws: number,
): MissingNote[] {
  const bySite = new Map(rows.map((row, index) => [row.site, { row, index }]));
  const notes: (MissingNote & { order: number })[] = [];
  rows.forEach((row, order) => {
    for (const one of unread(row)) {
      notes.push({
        id: `unread ${row.site} ${one.box} ${one.text}`,
        site: row.site,
        box: one.box,
        message: one.why,
        remedy: "kept as typed, and not counted until it is read",
        severity: "fault",
        repairs: [{ words: "Go there", act: { kind: "go", box: one.box } }],
        find: null,
        order,
      });
    }
    const thrown = row.typed.throws.filter(Boolean).length;
    if (!isEntered(row) || thrown === 0) return;
    for (let number = 1; number <= throws; number++) {
      if (row.typed.throws[number - 1]) continue;
      const box: Box = `throw${number}`;
      notes.push({
        id: `blank ${row.site} ${box}`,
        site: row.site,
        box,
        message: `throw ${number} is blank. A bare rake, or not thrown?`,
        remedy: "a bare rake counts, a throw not made does not",
        severity: "doubt",
        repairs: [
          { words: "Bare", act: { kind: "put", box, text: "0" } },
          { words: "Not thrown", act: { kind: "put", box, text: "–" } },
        ],
        find: null,
        order,
      });
    }
  });
  for (const find of finds) {
    if (find.settled || TOLD_BY_ROW.has(find.kind)) continue;
    const at = bySite.get(find.where);
    const box = at ? boxOf(find) : null;
    notes.push({
      id: find.id,
      site: at ? find.where : null,
      box,
      message: find.message,
      remedy: find.remedy,
      severity: find.severity === "fault" ? "fault" : "doubt",
      repairs: repairsOf(find, box, at?.row, units),
      find,
      order: at ? at.index : -1,
    });
  }
  return notes.sort((a, b) => a.order - b.order);
}
