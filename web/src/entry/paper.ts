// Which picture of a field sheet holds a row, and where on the paper the row is.
import type { SheetScanView } from "../api/contract";

/** The paper in hand: its picture, and the row of it from the top. */
export interface PaperRow {
  readonly picture: SheetScanView;
  readonly index: number;
  readonly rows: number;
}

/** Where the first row of a printed sheet begins, and how high a row is, as parts of its height. */
export const FIRST_ROW = 0.3027;
export const ROW_HEIGHT = 0.0341;

/** The newest picture that holds a site; one that does not say its rows counts for its sheet. */
export function paperOf(
  pictures: readonly SheetScanView[],
  site: string,
  sheet: { number: number; sites: readonly string[] },
): PaperRow | undefined {
  const newest = pictures.toReversed();
  const holds = newest.find((one) => one.sites.includes(site));
  if (holds) return { picture: holds, index: holds.sites.indexOf(site), rows: holds.sites.length };
  const same = newest.find((one) => one.sites.length === 0 && one.sheet === String(sheet.number));
  return same && { picture: same, index: sheet.sites.indexOf(site), rows: sheet.sites.length };
}

/** The middle of a row, as a part of the height of the paper. */
export const middleOf = (index: number): number =>
  FIRST_ROW + (Math.max(0, index) + 0.5) * ROW_HEIGHT;
