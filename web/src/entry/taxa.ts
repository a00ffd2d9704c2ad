/** A plant of the lake's list, as far as typing needs to know it. */
export interface Plant {
  readonly code: string;
  readonly scientificName: string;
  readonly commonName: string;
  /** Names it went by before. */
  readonly oldNames: readonly string[];
  readonly introduced: boolean;
  /** A find nobody has named yet. */
  readonly unknown: boolean;
  /** How often it was found in this lake: the commoner of two stands first. */
  readonly found: number;
}

/** Why a plant is offered. */
export type Why = "code" | "name" | "latin" | "old name" | "like";

export interface Match {
  readonly plant: Plant;
  readonly why: Why;
}

/** Lower case without accents; hyphens, points and blanks are one blank. */
export const folded = (text: string): string =>
  text
    .normalize("NFD")
    .replace(/[\u0300-\u036f]/g, "")
    .toLowerCase()
    .replace(/[^a-z0-9×]+/g, " ")
    .trim();

/**
 * How many slips lie between two words: a letter wrong, missing, too much, or two changed over
 * (Damerau 1964, Communications of the ACM 7:171–176). Gives up beyond `most`.
 */
export function slips(a: string, b: string, most: number): number {
  if (Math.abs(a.length - b.length) > most) return most + 1;
  let before: number[] = [];
  let last = Array.from({ length: b.length + 1 }, (_, j) => j);
  for (let i = 1; i <= a.length; i++) {
    const now = [i];
    for (let j = 1; j <= b.length; j++) {
      const same = a[i - 1] === b[j - 1];
      let best = Math.min(
        (last[j] ?? 0) + 1,
        (now[j - 1] ?? 0) + 1,
        (last[j - 1] ?? 0) + (same ? 0 : 1),
      );
      if (i > 1 && j > 1 && a[i - 1] === b[j - 2] && a[i - 2] === b[j - 1]) {
        best = Math.min(best, (before[j - 2] ?? 0) + 1);
      }
      now.push(best);
    }
    if (Math.min(...now) > most) return most + 1;
    before = last;
    last = now;
  }
  return last[b.length] ?? 0;
}

interface Known {
  readonly plant: Plant;
  readonly code: string;
  readonly name: string;
  readonly latin: string;
  readonly old: readonly string[];
  readonly words: readonly string[];
}

const WHY_ORDER: readonly Why[] = ["code", "name", "latin", "old name", "like"];

/** Finds plants by code, common, scientific or old name, and by typing errors. */
export class Finder {
  readonly #known: readonly Known[];
  readonly #exact = new Map<string, Plant>();

  constructor(readonly plants: readonly Plant[]) {
    this.#known = plants.map((plant) => {
      const name = folded(plant.commonName);
      const latin = folded(plant.scientificName);
      const old = plant.oldNames.map(folded);
      const words = [...new Set([name, latin, ...old].flatMap((text) => text.split(" ")))];
      return { plant, code: folded(plant.code), name, latin, old, words };
    });
    // a code outranks a name, a name an old name, so that nothing typed changes its meaning
    for (const kind of ["old", "latin", "name", "code"] as const) {
      for (const known of this.#known) {
        for (const text of [known[kind]].flat()) if (text) this.#exact.set(text, known.plant);
      }
    }
  }

  /** The plant whose code or whole name this is. */
  exact(text: string): Plant | undefined {
    return this.#exact.get(folded(text));
  }

  byCode(code: string): Plant | undefined {
    const plant = this.exact(code);
    return plant && folded(plant.code) === folded(code) ? plant : undefined;
  }

  /** The one plant whose code begins so, when there is only one. */
  only(text: string): Plant | undefined {
    const typed = folded(text);
    if (!typed) return undefined;
    const hits = this.#known.filter((known) => known.code.startsWith(typed));
    return hits.length === 1 ? hits[0]?.plant : undefined;
  }

  /** Whether typing on could still become a code. */
  begins(text: string): boolean {
    const typed = folded(text);
    return this.#known.some((known) => known.code.startsWith(typed));
  }

  #why(known: Known, typed: string): Why | undefined {
    if (known.code.startsWith(typed)) return "code";
    // "milfoil" is a watermilfoil; two letters are found in too many names to help
    const starts = (text: string) =>
      text.startsWith(typed) || text.includes(typed.length > 2 ? typed : ` ${typed}`);
    if (starts(known.name)) return "name";
    if (starts(known.latin)) return "latin";
    if (known.old.some(starts)) return "old name";
    return undefined;
  }

  /** Plants this may mean, the likeliest first; typing errors only where nothing else fits. */
  complete(text: string, limit = 6): Match[] {
    const typed = folded(text);
    if (!typed) return [];
    const hits: Match[] = [];
    for (const known of this.#known) {
      const why = this.#why(known, typed);
      if (why) hits.push({ plant: known.plant, why });
    }
    if (hits.length === 0) return this.#like(typed, limit);
    const exact = this.#exact.get(typed);
    const rank = ({ plant, why }: Match) => (plant === exact ? -1 : WHY_ORDER.indexOf(why));
    hits.sort(
      (a, b) =>
        rank(a) - rank(b) ||
        b.plant.found - a.plant.found ||
        a.plant.code.localeCompare(b.plant.code),
    );
    return hits.slice(0, limit);
  }

  #like(typed: string, limit: number): Match[] {
    const parts = typed.split(" ");
    const most = typed.length < 3 ? 0 : typed.length < 6 ? 1 : 2;
    if (most === 0) return [];
    const near: { match: Match; off: number }[] = [];
    for (const known of this.#known) {
      const whole = Math.min(
        slips(typed, known.code, most),
        ...[known.name, known.latin, ...known.old].map((name) =>
          // what is typed may be only the beginning
          Math.min(slips(typed, name, most), slips(typed, name.slice(0, typed.length), most)),
        ),
      );
      const inWords =
        parts.every((part) => part.length > 3) && parts.length > 0
          ? parts.reduce(
              (sum, part) =>
                sum +
                Math.min(
                  most + 1,
                  ...known.words.map((word) =>
                    Math.min(
                      slips(part, word, most),
                      slips(part, word.slice(0, part.length), most),
                    ),
                  ),
                ),
              0,
            )
          : most + 1;
      const off = Math.min(whole, inWords);
      if (off <= most) near.push({ match: { plant: known.plant, why: "like" }, off });
    }
    near.sort((a, b) => a.off - b.off || b.match.plant.found - a.match.plant.found);
    return near.slice(0, limit).map(({ match }) => match);
  }
}
