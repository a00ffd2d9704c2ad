/** What the top line says of edits on their way to the book. */
export interface KeptNow {
  /** When the book last took one, as an instant. */
  readonly at: string | null;
  /** Edits it does not have. */
  readonly waiting: number;
  /** What keeps them here. */
  readonly trouble: string | null;
}

/** The save state of the page that writes; empty on pages that only read. */
class Kept {
  now: KeptNow | null = $state.raw(null);
  /** What stands beside the survey's name, such as the sheet. */
  beside = $state("");
}

export const kept = new Kept();
