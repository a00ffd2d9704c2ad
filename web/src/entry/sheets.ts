/** Rows on a printed sheet; the screen shows the same ones. */
export const ROWS_PER_SHEET = 15;

export interface Sheet<T> {
  /** From 1. */
  readonly number: number;
  readonly rows: readonly T[];
}

/** Rows as they lie on the sheets, in boat order. */
export function onSheets<T>(rows: readonly T[]): readonly Sheet<T>[] {
  const sheets: Sheet<T>[] = [];
  for (let at = 0; at < rows.length || at === 0; at += ROWS_PER_SHEET) {
    sheets.push({ number: sheets.length + 1, rows: rows.slice(at, at + ROWS_PER_SHEET) });
  }
  return sheets;
}

/** The sheet a row lies on, from 1. */
export const sheetOf = (index: number): number => Math.floor(index / ROWS_PER_SHEET) + 1;
