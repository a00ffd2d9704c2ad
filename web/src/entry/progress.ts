import { isBlank, type Row } from "./rows";

/** True when the row says what came of the site. */
export const isEntered = (row: Row): boolean =>
  row.typed.throws.some(Boolean) || /^[A-Z]{1,2}(\s|$)/.test(row.typed.outcome);

/** How far the writing-up has come. */
export interface Progress {
  readonly entered: number;
  readonly begun: number;
  readonly all: number;
}

export function progressOf(rows: readonly Row[]): Progress {
  const counted = rows.filter((row) => !row.spare || !isBlank(row.typed));
  const entered = counted.filter(isEntered).length;
  const begun = counted.filter((row) => !isEntered(row) && !isBlank(row.typed)).length;
  return { entered, begun, all: counted.length };
}
