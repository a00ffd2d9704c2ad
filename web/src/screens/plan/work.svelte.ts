/** A site being moved, dropped or replaced; nothing is written before it is kept. */
export interface Act {
  readonly kind: "move" | "drop" | "replace" | "restore";
  readonly code: string;
  readonly from: readonly [number, number];
  /** Where it hangs; the same as `from` until it is carried. */
  readonly to: readonly [number, number];
  /** It was put down, and waits for the reason. */
  readonly down: boolean;
}

interface Placed {
  readonly code: string;
  readonly x: number | null;
  readonly y: number | null;
}

const WHO = "quillwort.who";

/** Whoever signed last on this computer. */
export function lastWho(): string {
  try {
    return localStorage.getItem(WHO) ?? "";
  } catch {
    return "";
  }
}

/** What is being done to one site, from taking hold of it to keeping it. */
export class SiteWork {
  act = $state.raw<Act | null>(null);
  why = $state("");
  who = $state(lastWho());
  trouble = $state.raw<unknown>(null);
  saving = $state(false);

  /** Arrow keys and clicks say where. */
  get carrying(): boolean {
    return this.act?.kind === "move" && !this.act.down;
  }

  /** Where a site stands or hangs just now. */
  placeOf(site: Placed): readonly [number, number] | null {
    if (this.act?.kind === "move" && this.act.code === site.code) return this.act.to;
    return site.x === null || site.y === null ? null : [site.x, site.y];
  }

  begin(kind: Act["kind"], site: Placed): void {
    if (site.x === null || site.y === null) return;
    const at = [site.x, site.y] as const;
    this.trouble = null;
    this.why = "";
    this.act = { kind, code: site.code, from: at, to: at, down: kind !== "move" };
  }

  nudge(east: number, north: number): void {
    if (!this.act || !this.carrying) return;
    const [x, y] = this.act.to;
    this.act = { ...this.act, to: [x + east, y + north] };
  }

  /** Dragged or clicked to a place. */
  put(site: Placed, x: number, y: number): void {
    if (this.act?.kind !== "move" || this.act.code !== site.code) this.begin("move", site);
    if (this.act) this.act = { ...this.act, to: [x, y], down: true };
  }

  /** Put down where it hangs; back where it was when it never left. */
  down(): void {
    if (!this.act) return;
    const [x, y] = this.act.from;
    const [tx, ty] = this.act.to;
    if (this.act.kind === "move" && x === tx && y === ty) this.cancel();
    else this.act = { ...this.act, down: true };
  }

  cancel(): void {
    this.act = null;
    this.trouble = null;
  }

  /** Writes it; on trouble the act stays, with what is wrong. */
  async keep(write: (act: Act, why: string, who: string) => Promise<unknown>): Promise<boolean> {
    if (!this.act || this.saving) return false;
    this.saving = true;
    this.trouble = null;
    try {
      await write(this.act, this.why.trim(), this.who.trim());
      try {
        localStorage.setItem(WHO, this.who.trim());
      } catch {
        // a browser that keeps nothing asks again
      }
      this.act = null;
      return true;
    } catch (error) {
      this.trouble = error;
      return false;
    } finally {
      this.saving = false;
    }
  }
}
