import type { SealView } from "../api/contract";
import type { Progress } from "../entry/progress";
import type { Sheet } from "../entry/sheets";
import { longDate } from "./dates";
import type { Parts } from "./lake";
import { fixed } from "./numbers";

/** How far the record has come, in a sentence. */
export function recordAnswer(
  seal: SealView | null,
  progress: Progress,
  sheet: Sheet<{ readonly site: string }> | null,
): Parts {
  const count = { figure: `${fixed(progress.entered)} of ${fixed(progress.all)} sites` };
  if (seal) {
    return [
      `Sealed on ${longDate(seal.at)} by ${seal.by}: `,
      count,
      " are written up. Changes are made by amendment, signed and shown wherever the data is.",
    ];
  }
  if (!sheet) return [count, " are written up."];
  const [first, last] = [sheet.rows[0]?.site, sheet.rows.at(-1)?.site];
  if (!first) return ["No site is planned: write each one as it comes."];
  const place = first === last ? `site ${first}` : `sites ${first} to ${last}`;
  return [
    `Sheet ${sheet.number}, ${place}. `,
    count,
    " entered. Type as it stands on the paper: code, space, letter.",
  ];
}

/** `site 14`, `sites 3, 14 and 15`, and no more than a line of them. */
export function sitesWords(sites: readonly string[]): string {
  const [only] = sites;
  if (sites.length === 1) return `site ${only}`;
  if (sites.length > 6) return `${fixed(sites.length)} sites`;
  return `sites ${sites.slice(0, -1).join(", ")} and ${sites.at(-1)}`;
}

/** The letter an amendment is known by beside the rows it changed: a, b, … z, aa. */
export const amendmentLetter = (index: number): string =>
  (index >= 26 ? amendmentLetter(Math.floor(index / 26) - 1) : "") +
  String.fromCharCode(97 + (index % 26));
