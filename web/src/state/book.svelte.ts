import { fetchBook } from "../api/client";
import type { BookView } from "../api/contract";

/** The open lake book as the screens know it; read again after every change. */
class OpenBook {
  view = $state.raw<BookView | undefined>();
  trouble = $state.raw<unknown>();

  /** Reads it anew; the old one stays until the new one is there. */
  async read(): Promise<void> {
    try {
      this.view = await fetchBook();
      this.trouble = undefined;
    } catch (error) {
      this.trouble = error;
    }
  }
}

export const openBook = new OpenBook();
