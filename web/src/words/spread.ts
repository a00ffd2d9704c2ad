// The words of `Where did it move?`.
import type { CompareView, SpreadView } from "../api/contract";
import { changeAt } from "../map/marks";
import type { Units } from "../units/units";
import { pValue } from "./compare";
import type { Parts } from "./lake";
import { called } from "./taxon";

/** What one plant gained, lost and kept between two surveys. */
export interface Moves {
  readonly code: string;
  readonly name: string;
  readonly origin: string;
  readonly before: number;
  readonly after: number;
  /** None when the sites are different ones. */
  readonly gained: number | null;
  readonly lost: number | null;
  readonly kept: number | null;
}

/** A row for every plant found in either survey, those that moved most first. */
export function moves(view: CompareView): Moves[] {
  const paired = view.design === "paired";
  const rows = view.taxa.map((taxon): Moves => {
    const at = (kind: string) =>
      view.places.filter((place) => changeAt(place, taxon.code) === kind).length;
    return {
      code: taxon.code,
      name: called(taxon),
      origin: taxon.origin,
      before: taxon.from.k,
      after: taxon.to.k,
      gained: paired ? at("gained") : null,
      lost: paired ? at("lost") : null,
      kept: paired ? at("kept") : null,
    };
  });
  const turnover = (row: Moves) =>
    row.gained === null || row.lost === null
      ? Math.abs(row.after - row.before)
      : row.gained + row.lost;
  return rows.sort((a, b) => turnover(b) - turnover(a));
}

/** The shift with its interval and p; empty without one. */
export function shiftWords(view: SpreadView, units: Units): string {
  const shift = view.shift_m;
  if (!shift) return "";
  const low = units.length(shift.low);
  const high = units.length(shift.high);
  const p = shift.p < 0.001 ? pValue(shift.p) : `= ${pValue(shift.p)}`;
  return `${units.length(shift.value)} ${view.direction} (${low} to ${high}), p ${p}`;
}

/** The line under the question; how far and which way is set heavier. */
export function spreadAnswer(view: SpreadView): Parts {
  const text = view.sentence;
  if (text.startsWith("Cannot tell")) return [{ figure: "Cannot tell" }, text.slice(11)];
  const found = / moved (.+?)( \(p [^)]*\)\.?)$/.exec(text);
  if (!found?.[1] || !found[2]) return [text];
  return [text.slice(0, found.index), " moved ", { figure: found[1] }, found[2]];
}
