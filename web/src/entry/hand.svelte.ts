// The hand that types: which sheet lies there, which row and box it is in, where it goes next.

import { tick } from "svelte";
import { route } from "../state/route.svelte";
import type { Units } from "../units/units";
import type { EntryBook } from "./book.svelte";
import { missingNotes } from "./missing";
import { isEntered, progressOf } from "./progress";
import { type Box, NOTHING, type Row, textOf } from "./rows";
import { onSheets, sheetOf } from "./sheets";

/** The number of a note in the margin, and the box it speaks of; none for the row. */
export interface NoteKey {
  readonly number: number;
  readonly box: Box | null;
}

export class Hand {
  /** Row and box as last chosen; `inHand` is the row on the sheet that is shown. */
  #site = $state("");
  box = $state<Box>("depth");
  /** Puts the caret into the box in hand; the grid says how. */
  focus: () => Promise<void> = async () => {};

  constructor(
    readonly book: EntryBook,
    readonly units: Units,
  ) {}

  readonly throws = $derived.by(() => this.book.header.header.throws_per_site || 1);
  readonly sheets = $derived.by(() => onSheets(this.book.rows));
  readonly sheet = $derived.by(() => {
    const asked = Math.max(1, Number(route.get("sheet") ?? 1) || 1);
    return this.sheets[Math.min(asked, this.sheets.length) - 1] ?? { number: 1, rows: [] };
  });
  readonly inHand = $derived.by(() => {
    const { rows } = this.sheet;
    if (rows.some((row) => row.site === this.#site)) return this.#site;
    return (rows.find((row) => !isEntered(row)) ?? rows[0])?.site ?? "";
  });
  readonly progress = $derived.by(() => progressOf(this.book.rows));
  readonly notes = $derived.by(() =>
    missingNotes(
      this.book.rows,
      this.book.finds,
      (row) => this.book.unread(row),
      this.units,
      this.throws,
    ).filter(
      // what is being typed is not wrong yet
      (note) => note.find !== null || note.site !== this.inHand,
    ),
  );
  readonly #onSheet = $derived.by(() => new Set(this.sheet.rows.map((row) => row.site)));
  /** Notes of the sheet that is shown. */
  readonly here = $derived.by(() =>
    this.notes.filter((note) => note.site === null || this.#onSheet.has(note.site)),
  );
  /** Notes of other sheets. */
  readonly others = $derived.by(() =>
    this.notes.filter((note) => note.site !== null && !this.#onSheet.has(note.site)),
  );
  readonly keys = $derived.by(() => {
    const bySite = new Map<string, NoteKey[]>();
    this.here.forEach((note, index) => {
      if (!note.site) return;
      const list = bySite.get(note.site) ?? [];
      list.push({ number: index + 1, box: note.box });
      bySite.set(note.site, list);
    });
    return bySite;
  });

  /** What stands in the same box of the row above. */
  above(row: Row, at: Box): string {
    const { rows } = this.book;
    return textOf(rows[rows.indexOf(row) - 1]?.typed ?? NOTHING, at);
  }

  /** Leaves the box in hand; what stands in it is kept. */
  leave(): void {
    if (this.inHand) this.book.leave(this.inHand, this.box);
  }

  to(site: string, box: Box): void {
    this.leave();
    this.#site = site;
    this.box = box;
  }

  async toSheet(number: number, edge: "first" | "last", at: Box = "depth"): Promise<void> {
    if (number < 1 || number > this.sheets.length) return;
    this.leave();
    route.set({ sheet: String(number) });
    const rows = this.sheets[number - 1]?.rows ?? [];
    this.#site = (edge === "first" ? rows[0] : rows.at(-1))?.site ?? "";
    this.box = at;
    await tick();
    await this.focus();
  }

  async goTo(site: string, at: Box): Promise<void> {
    const index = this.book.rows.findIndex((row) => row.site === site);
    if (index < 0) return;
    this.leave();
    route.set({ sheet: String(sheetOf(index)) });
    this.#site = site;
    this.box = at;
    await tick();
    await this.focus();
  }

  /** Over the edge of the sheet. */
  edge(way: "before" | "after", at: Box): void {
    if (way === "after")
      void this.toSheet(this.sheet.number + 1, "first", at === "outcome" ? "depth" : at);
    else void this.toSheet(this.sheet.number - 1, "last", at);
  }

  typed(site: string, at: Box, text: string, done: boolean): void {
    this.book.type(site, at, text);
    if (done) this.book.keep(site);
  }
}
