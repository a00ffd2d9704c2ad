// The survey being written up: its rows, what is on its way to the book, and what the check says.

import type {
  BedEntry,
  CheckView,
  EntryTaxonView,
  EntryView,
  HeaderBody,
  HeaderEntry,
  PlantAlertView,
  ShorelineEntry,
  VisitBody,
  VisitEntry,
} from "../api/contract";
import { addSite, addUnknown, firstKeeping, type Keeping, saveHeader, undo } from "../api/record";
import type { Units } from "../units/units";
import { type Edit, Outbox, type OutboxState, type Sent } from "./outbox";
import {
  type Box,
  isBlank,
  NOTHING,
  newSite,
  type Row,
  readRow,
  rowOf,
  rowsOf,
  type Typed,
  textOf,
  type Unread,
  withText,
} from "./rows";
import { Scale } from "./scale";
import { Finder, type Plant } from "./taxa";
import { ThrowReader } from "./throws";

const plantOf = (taxon: EntryTaxonView): Plant => ({
  code: taxon.code,
  scientificName: taxon.scientific_name,
  commonName: taxon.common_name,
  oldNames: [...taxon.other_names, ...taxon.aliases],
  introduced: taxon.origin === "introduced",
  unknown: taxon.rank === "unidentified",
  found: taxon.found,
});

const readerOf = (view: EntryView): ThrowReader =>
  new ThrowReader(new Finder(view.species.map(plantOf)), new Scale(view.scale.steps));

/** A body on its way: what was typed, so that the boxes can be filled again, and for which site. */
interface VisitEdit {
  readonly kind: "visit";
  readonly site: string;
  readonly typed: Typed;
  readonly visit: VisitBody;
  readonly by: string;
}
interface HeaderEdit {
  readonly kind: "header";
  readonly header: HeaderBody;
  readonly by: string;
}

const WHO = "quillwort.who";
const CHECK_AFTER = 700;

function browserKeep():
  | Storage
  | { getItem: () => null; setItem: () => never; removeItem: () => void } {
  try {
    return localStorage;
  } catch {
    return {
      getItem: () => null,
      setItem: () => {
        throw new Error("this browser keeps nothing");
      },
      removeItem: () => {},
    };
  }
}

export class EntryBook {
  view: EntryView = $state.raw() as EntryView;
  reader: ThrowReader = $state.raw() as ThrowReader;
  rows: readonly Row[] = $state.raw([]);
  header: HeaderEntry = $state.raw() as HeaderEntry;
  finds: readonly CheckView[] = $state.raw([]);
  alerts: readonly PlantAlertView[] = $state.raw([]);
  box: OutboxState = $state.raw({
    waiting: 0,
    keptAt: null,
    trouble: null,
    safe: true,
    refused: new Map(),
  });
  who: string = $state("");
  readonly #outbox: Outbox;
  readonly #keep = browserKeep();
  #checkTimer: ReturnType<typeof setTimeout> | undefined;
  /** What is not in the book yet, in the order it was typed, and since when. */
  #typed: { readonly name: string; readonly body: VisitEdit | HeaderEdit; readonly at: number }[] =
    [];
  #ended = false;
  /** The person who types a second time is another one. */
  readonly #whoKey: string;
  /** What the book is known to hold, by site. */
  readonly #inBook = new Map<string, VisitBody>();

  constructor(
    view: EntryView,
    readonly survey: string,
    readonly units: Units,
    readonly keeping: Keeping = firstKeeping(survey),
  ) {
    this.#take(view);
    this.#whoKey = keeping.check ? WHO : `${WHO}.second`;
    try {
      this.who = this.#keep.getItem(this.#whoKey) ?? "";
    } catch {
      this.who = "";
    }
    this.#outbox = new Outbox({
      keep: this.#keep,
      key: `quillwort.unsent.${keeping.key}`,
      send: (edit) => this.#send(edit),
      onchange: (state) => {
        this.box = state;
      },
      onkept: (edit, version) => this.#kept(edit, version),
    });
    this.#again();
    addEventListener("online", this.#online);
  }

  readonly #online = () => void this.#outbox.retry();

  /** Stops listening; what is not sent stays in the browser. */
  end(): void {
    this.#ended = true;
    removeEventListener("online", this.#online);
    clearTimeout(this.#checkTimer);
  }

  #take(view: EntryView): void {
    this.view = view;
    this.reader = readerOf(view);
    this.rows = rowsOf(view.sites, view.visits, this.reader, this.units);
    this.header = view.header;
    this.#inBook.clear();
    for (const row of this.rows) {
      if (row.version === null) continue;
      this.#inBook.set(row.site, readRow(row, this.reader, this.units).visit);
    }
  }

  /** Puts edits of an earlier visit back into their boxes and sends them. */
  #again(): void {
    for (const edit of this.#outbox.waiting.values()) {
      const body = edit.body as VisitEdit | HeaderEdit;
      if (body.kind === "visit") this.#setTyped(body.site, body.typed);
      else if (body.kind === "header") this.header = { ...this.header, header: body.header };
    }
    this.box = this.#outbox.state;
    void this.#outbox.run();
    this.checkSoon(0);
  }

  /** Reads the survey anew, after an undo or another's change. */
  async reload(): Promise<void> {
    this.#take(await this.keeping.fetch());
    this.#again();
  }

  setWho(name: string): void {
    this.who = name.trim();
    try {
      this.#keep.setItem(this.#whoKey, this.who);
    } catch {
      // asked again next time
    }
  }

  row(site: string): Row | undefined {
    return this.rows.find((row) => row.site === site);
  }

  #replace(site: string, change: (row: Row) => Row): void {
    this.rows = this.rows.map((row) => (row.site === site ? change(row) : row));
  }

  #setTyped(site: string, typed: Typed): void {
    if (!this.row(site)) this.#addRow(site);
    this.#replace(site, (row) => ({ ...row, typed }));
  }

  /** A site typed as it comes; the book knows it before anything is written in its row. */
  async addSite(code: string): Promise<void> {
    if (this.row(code)) return;
    await addSite(this.survey, this.who, code);
    this.#addRow(code);
  }

  #addRow(code: string): void {
    this.rows = [...this.rows, rowOf(newSite(code), null, this.reader, this.units)];
  }

  #unread = new WeakMap<Row, readonly Unread[]>();
  #unreadBy: ThrowReader | undefined;

  /** What could not be read in a row; rows that did not change are not read again. */
  unread(row: Row): readonly Unread[] {
    if (this.#unreadBy !== this.reader) {
      this.#unread = new WeakMap();
      this.#unreadBy = this.reader;
    }
    const known = this.#unread.get(row);
    if (known) return known;
    const { unread } = readRow(row, this.reader, this.units);
    this.#unread.set(row, unread);
    return unread;
  }

  /** Text in a box while it is being typed; nothing is sent yet. */
  type(site: string, box: Box, text: string): void {
    this.#replace(site, (row) => ({ ...row, typed: withText(row.typed, box, text) }));
  }

  /** Sends the row as it stands, when it says something else than the book. */
  keep(site: string): void {
    const row = this.row(site);
    if (!row) return;
    const { visit } = readRow(row, this.reader, this.units);
    const waiting = this.#outbox.waiting.get(`visit ${site}`)?.body as VisitEdit | undefined;
    const known = waiting?.visit ?? this.#inBook.get(site);
    const blank = isBlank(row.typed);
    if (known ? JSON.stringify(known) === JSON.stringify(visit) : blank) return;
    const body: VisitEdit = { kind: "visit", site, typed: row.typed, visit, by: this.who };
    this.#put(`visit ${site}`, body, row.version);
  }

  /** Tidies a box that is left, and keeps it. */
  leave(site: string, box: Box): void {
    const row = this.row(site);
    if (!row) return;
    const text = textOf(row.typed, box);
    const tidy = this.#tidy(box, text);
    if (tidy !== text) this.type(site, box, tidy);
    this.keep(site);
  }

  #tidy(box: Box, text: string): string {
    if (box.startsWith("throw")) return this.reader.tidy(text);
    if (box === "bottom") {
      const { visit, unread } = readRow(
        { typed: { ...NOTHING, bottom: text }, beside: {} },
        this.reader,
        this.units,
      );
      return unread.length > 0 ? text.trim() : (visit.sediment ?? "");
    }
    return text.trim();
  }

  setHeader(header: HeaderBody): void {
    this.header = { ...this.header, header };
    const body: HeaderEdit = { kind: "header", header, by: this.who };
    this.#put("header", body, this.header.version);
  }

  #put(name: string, body: VisitEdit | HeaderEdit, base: string | null): void {
    this.#typed.push({ name, body, at: performance.now() });
    void this.#outbox.put({ name, body, base });
  }

  /** Measures how long an edit, and those it took the place of, were on their way. */
  #measure(name: string, body: VisitEdit | HeaderEdit): void {
    const last = this.#typed.findIndex((one) => one.body === body);
    const done = this.#typed.filter((one, index) => one.name === name && index <= last);
    for (const { at } of done) performance.measure("quillwort.kept", { start: at });
    this.#typed = this.#typed.filter((one) => !done.includes(one));
  }

  async #send(edit: Edit): Promise<Sent> {
    const body = edit.body as VisitEdit | HeaderEdit;
    if (body.kind === "header") return saveHeader(this.survey, body.by, edit.base, body.header);
    if (isBlank(body.typed) && edit.base === null) {
      return { kind: "kept", version: null, at: new Date().toISOString() };
    }
    if (isBlank(body.typed)) return this.keeping.remove(body.site, body.by, edit.base);
    const { sent, finds, alerts } = await this.keeping.save(
      body.site,
      body.by,
      edit.base,
      body.visit,
    );
    if (finds) this.#findsOf(body.site, finds);
    if (alerts && alerts.length > 0) this.#alert(alerts);
    return sent;
  }

  #findsOf(site: string, finds: readonly CheckView[]): void {
    this.finds = [...this.finds.filter((find) => find.where !== site), ...finds];
  }

  #alert(alerts: readonly PlantAlertView[]): void {
    const known = new Set(this.alerts.map((alert) => alert.taxon));
    this.alerts = [...this.alerts, ...alerts.filter((alert) => !known.has(alert.taxon))];
  }

  #kept(edit: Edit, version: string | null): void {
    const body = edit.body as VisitEdit | HeaderEdit;
    this.#measure(edit.name, body);
    if (body.kind === "header") this.header = { ...this.header, version: version ?? "" };
    else {
      this.#replace(body.site, (row) => ({ ...row, version }));
      if (version === null) this.#inBook.delete(body.site);
      else this.#inBook.set(body.site, body.visit);
    }
    this.checkSoon();
  }

  /** Asks what is still missing, once typing rests. */
  checkSoon(after = CHECK_AFTER): void {
    clearTimeout(this.#checkTimer);
    const { check } = this.keeping;
    if (this.#ended || !check) return;
    this.#checkTimer = setTimeout(() => {
      check().then(
        (finds) => {
          this.finds = finds;
        },
        () => {
          // the next save asks again; the save itself tells of trouble
        },
      );
    }, after);
  }

  /** Tries at once to send what waits. */
  retry(): void {
    void this.#outbox.retry();
  }

  /** Settles a conflict: the row as typed here, or as the book has it. */
  async settle(name: string, mine: boolean): Promise<void> {
    const refusal = this.box.refused.get(name);
    if (!refusal) return;
    const body = refusal.edit.body as VisitEdit | HeaderEdit;
    this.#typed = this.#typed.filter((one) => one.name !== name);
    if (!mine) {
      this.#outbox.drop(name);
      return this.reload();
    }
    const theirs =
      refusal.sent.kind === "conflict"
        ? (refusal.sent.theirs as VisitEntry | HeaderEntry | null)
        : null;
    const base = theirs?.version ?? null;
    if (body.kind === "visit") this.#replace(body.site, (row) => ({ ...row, version: base }));
    await this.#outbox.put({ ...refusal.edit, base });
  }

  /** Takes back the last save. */
  async undo(): Promise<string | null> {
    const taken = await undo(this.who);
    await this.reload();
    return taken;
  }

  /** The next unknown plant; gives its code. */
  async unknown(): Promise<string> {
    const taxon = await addUnknown(this.who);
    this.learn(taxon);
    return taxon.code;
  }

  setBeds(beds: BedEntry[]): void {
    this.view = { ...this.view, beds };
  }

  setShoreline(shoreline: ShorelineEntry[]): void {
    this.view = { ...this.view, shoreline };
  }

  /** A plant new to the lake's list, or said something else of. */
  learn(taxon: EntryTaxonView): void {
    const same = (one: EntryTaxonView) => one.scientific_name === taxon.scientific_name;
    // what is said of a plant changes nothing in where it was found
    const { found, found_here } = this.view.species.find(same) ?? taxon;
    const others = this.view.species.filter((one) => !same(one));
    const species = [...others, { ...taxon, found, found_here }];
    this.view = { ...this.view, species };
    this.reader = readerOf(this.view);
  }
}
