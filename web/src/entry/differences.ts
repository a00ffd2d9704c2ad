// Where two people read the paper differently, box by box, in the order of the sheets.
import type { EntryDifferenceView, VisitBody } from "../api/contract";
import type { Units } from "../units/units";
import { outcomeWords } from "./cells";
import { type Row, typedOf } from "./rows";
import type { ThrowReader } from "./throws";

/** One box as each of the two has it. */
export interface BoxPair {
  readonly box: string;
  readonly first: string;
  readonly second: string;
  /** True for the plants of a throw. */
  readonly plants: boolean;
}

/** Boxes that are settled by one choice. */
export interface Difference {
  /** Stable while it stands. */
  readonly id: string;
  readonly site: string;
  readonly firstBy: string;
  readonly secondBy: string;
  readonly pairs: readonly BoxPair[];
}

const isThrow = (box: string): boolean => box.startsWith("throw ");

/** What stands in a box of the sheet; nothing for a visit that was not typed. */
function words(
  visit: VisitBody | null,
  box: string,
  told: string,
  reader: ThrowReader,
  units: Units,
): string {
  if (!visit) return "";
  const typed = typedOf(visit, reader, units);
  if (isThrow(box)) return typed.throws[Number(box.slice(6)) - 1] ?? "";
  if (box === "depth") return typed.depth && `${typed.depth} ${units.depthUnit}`;
  if (box === "bottom") return typed.bottom;
  if (box === "note") return visit.note;
  if (box === "outcome") return visit.not_sampled === null ? "" : outcomeWords(visit.not_sampled);
  return told === "nothing" ? "" : told;
}

const ORDER = ["depth", "bottom", "throw", "outcome", "note"];
/** As on the sheet; what it has no box for stands last. */
const place = ({ box }: BoxPair): number => {
  const at = ORDER.findIndex((word) => box.startsWith(word));
  return at < 0 ? ORDER.length : at;
};

/** Every choice that is to be made; what came of a site is one choice with its throws. */
export function differencesOf(
  different: readonly EntryDifferenceView[],
  rows: readonly Pick<Row, "site">[],
  reader: ThrowReader,
  units: Units,
): Difference[] {
  const rank = new Map(rows.map((row, index) => [row.site, index]));
  const at = (site: string) => rank.get(site) ?? rows.length;
  return different
    .toSorted((a, b) => at(a.site) - at(b.site))
    .flatMap((one) => {
      const told = new Map(one.fields.map((field) => [field.field.split(",")[0] ?? "", field]));
      const pairs = [...told]
        .map(
          ([box, field]): BoxPair => ({
            box,
            first: words(one.first, box, field.current, reader, units),
            second: words(one.second, box, field.other, reader, units),
            plants: isThrow(box),
          }),
        )
        .sort((a, b) => place(a) - place(b));
      const outcome = pairs.some((pair) => pair.box === "outcome");
      const together = pairs.filter(
        (pair) => outcome && (pair.box === "outcome" || isThrow(pair.box)),
      );
      const alone = pairs.filter((pair) => !together.includes(pair));
      const groups = [...alone.map((pair) => [pair]), ...(together.length > 0 ? [together] : [])];
      return groups.map(
        (group): Difference => ({
          id: `${one.site} ${group.map((pair) => pair.box).join(" ")}`,
          site: one.site,
          firstBy: one.first_by,
          secondBy: one.second_by,
          pairs: group,
        }),
      );
    });
}
