// Edits on their way to the lake book. Each is kept in this browser until the book has it, so that
// a lost connection, a closed lid or a stopped program loses nothing.

/** Where the browser keeps what is not sent: `localStorage`, or a map in tests. */
export interface Keep {
  getItem(key: string): string | null;
  setItem(key: string, value: string): void;
  removeItem(key: string): void;
}

/** An edit; a later one with the same name takes its place. */
export interface Edit {
  readonly name: string;
  readonly body: unknown;
  /** What the book held when this was typed. */
  readonly base: string | null;
}

export type Sent =
  | { readonly kind: "kept"; readonly version: string | null; readonly at: string }
  /** The book holds something newer. */
  | { readonly kind: "conflict"; readonly theirs: unknown }
  /** The book will not have it. */
  | { readonly kind: "refused"; readonly message: string; readonly hint: string }
  /** Nobody answers; worth another try. */
  | { readonly kind: "unreachable"; readonly message: string };

export interface Refusal {
  readonly edit: Edit;
  readonly sent: Exclude<Sent, { kind: "kept" } | { kind: "unreachable" }>;
}

export interface OutboxState {
  /** Edits the book does not have. */
  readonly waiting: number;
  /** When the book last took one. */
  readonly keptAt: string | null;
  /** What keeps them here. */
  readonly trouble: string | null;
  /** False when this browser cannot keep them either. */
  readonly safe: boolean;
  readonly refused: ReadonlyMap<string, Refusal>;
}

interface Options {
  readonly keep: Keep;
  readonly key: string;
  readonly send: (edit: Edit) => Promise<Sent>;
  readonly onchange: (state: OutboxState) => void;
  readonly onkept?: (edit: Edit, version: string | null) => void;
  readonly wait?: (milliseconds: number) => Promise<void>;
}

const FIRST_WAIT = 500;
const LONGEST_WAIT = 15_000;

export class Outbox {
  readonly #options: Options;
  #waiting = new Map<string, Edit>();
  #refused = new Map<string, Refusal>();
  #keptAt: string | null = null;
  #trouble: string | null = null;
  #safe = true;
  #running = false;
  #hurry: (() => void) | undefined;

  constructor(options: Options) {
    this.#options = options;
    for (const edit of this.#restore()) this.#waiting.set(edit.name, edit);
  }

  /** Edits left here by an earlier visit to the page. */
  get waiting(): ReadonlyMap<string, Edit> {
    return this.#waiting;
  }

  get state(): OutboxState {
    return {
      waiting: this.#waiting.size + this.#refused.size,
      keptAt: this.#keptAt,
      trouble: this.#trouble,
      safe: this.#safe,
      refused: this.#refused,
    };
  }

  put(edit: Edit): Promise<void> {
    this.#refused.delete(edit.name);
    // an edit already under way keeps the base it was sent with
    this.#waiting.delete(edit.name);
    this.#waiting.set(edit.name, edit);
    this.#store();
    this.#tell();
    return this.run();
  }

  /** Forgets an edit: the book's version holds. */
  drop(name: string): void {
    this.#waiting.delete(name);
    this.#refused.delete(name);
    this.#store();
    this.#tell();
  }

  /** Tries again at once. */
  retry(): Promise<void> {
    this.#hurry?.();
    return this.run();
  }

  async run(): Promise<void> {
    if (this.#running) return;
    this.#running = true;
    let pause = FIRST_WAIT;
    try {
      for (;;) {
        const next = this.#waiting.values().next().value;
        if (!next) break;
        const sent = await this.#options.send(next);
        const untouched = this.#waiting.get(next.name) === next;
        if (sent.kind === "unreachable") {
          this.#trouble = sent.message;
          this.#tell();
          await this.#pause(pause);
          pause = Math.min(pause * 2, LONGEST_WAIT);
          continue;
        }
        pause = FIRST_WAIT;
        this.#trouble = null;
        if (sent.kind === "kept") {
          this.#keptAt = sent.at;
          if (untouched) this.#waiting.delete(next.name);
          else this.#rebase(next.name, sent.version);
          this.#options.onkept?.(next, sent.version);
        } else if (untouched) {
          this.#waiting.delete(next.name);
          this.#refused.set(next.name, { edit: next, sent });
        }
        this.#store();
        this.#tell();
      }
    } finally {
      this.#running = false;
    }
  }

  /** What was typed while an earlier edit of the same row travelled stands on that edit. */
  #rebase(name: string, version: string | null): void {
    const later = this.#waiting.get(name);
    if (later) this.#waiting.set(name, { ...later, base: version });
  }

  #pause(milliseconds: number): Promise<void> {
    const wait =
      this.#options.wait ?? ((ms: number) => new Promise<void>((done) => setTimeout(done, ms)));
    return Promise.race([
      wait(milliseconds),
      new Promise<void>((done) => {
        this.#hurry = done;
      }),
    ]);
  }

  #tell(): void {
    this.#options.onchange(this.state);
  }

  #store(): void {
    const { keep, key } = this.#options;
    const edits = [...this.#waiting.values(), ...[...this.#refused.values()].map((r) => r.edit)];
    try {
      if (edits.length === 0) keep.removeItem(key);
      else keep.setItem(key, JSON.stringify(edits));
      this.#safe = true;
    } catch {
      this.#safe = false;
    }
  }

  #restore(): Edit[] {
    const { keep, key } = this.#options;
    try {
      const found: unknown = JSON.parse(keep.getItem(key) ?? "[]");
      if (!Array.isArray(found)) return [];
      return found.filter(
        (edit): edit is Edit =>
          typeof edit === "object" &&
          edit !== null &&
          typeof edit.name === "string" &&
          "body" in edit,
      );
    } catch {
      this.#safe = false;
      return [];
    }
  }
}
