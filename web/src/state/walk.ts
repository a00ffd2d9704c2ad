/**
 * Arrow keys walk the rows of a table; the row reached becomes the chosen one.
 * One row takes the Tab key, the others the arrows. Enter is left to the table.
 */
export function walk(event: KeyboardEvent): void {
  const row = (event.target as HTMLElement).closest<HTMLElement>("[data-row]");
  const body = row?.parentElement;
  if (!row || !body) return;
  const rows = [...body.querySelectorAll<HTMLElement>(":scope > [data-row]")];
  const here = rows.indexOf(row);
  const steps: Record<string, number> = {
    ArrowDown: here + 1,
    ArrowUp: here - 1,
    Home: 0,
    End: rows.length - 1,
    PageDown: here + 8,
    PageUp: here - 8,
  };
  const step = steps[event.key];
  if (step === undefined) return;
  event.preventDefault();
  const next = rows[Math.max(0, Math.min(rows.length - 1, step))];
  next?.focus();
  next?.click();
}
