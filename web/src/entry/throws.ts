// What is typed into the box of a rake throw, as on the paper: code, space, rating.
//
//   CEDE M POPR S     two plants with their ratings
//   = D CEDE M        the rake as a whole, then its plants
//   NYOD V            seen beside the rake, not on it
//   0                 the rake came up bare
//   –                 this throw was not made
//   CEDE .            there, and no rating written
import type { Scale } from "./scale";
import type { Finder, Plant } from "./taxa";

export interface Find {
  readonly taxon: string;
  readonly rating: string | null;
  readonly seen: "rake" | "visual";
}

/** A piece that was not understood. */
export interface Slip {
  readonly from: number;
  readonly to: number;
  readonly text: string;
  readonly why: "no plant" | "several" | "twice" | "rating alone" | "bare with plants";
}

export interface ThrowCell {
  readonly kind: "empty" | "not made" | "thrown";
  readonly total: string | null;
  readonly finds: readonly Find[];
  readonly slips: readonly Slip[];
}

interface Word {
  readonly text: string;
  readonly from: number;
  readonly to: number;
}

const SEEN_WORD = "v";
const NO_RATING = ".";
const NOT_MADE = /^[-–—]$/;

function split(text: string): Word[] {
  const words: Word[] = [];
  for (const match of text.matchAll(/=|[^\s,;=]+/g)) {
    words.push({ text: match[0], from: match.index, to: match.index + match[0].length });
  }
  return words;
}

const EMPTY: ThrowCell = { kind: "empty", total: null, finds: [], slips: [] };

/** Longest name, in words. */
const LONGEST_NAME = 6;

interface Named {
  readonly plant: Plant;
  readonly words: number;
  /** A rating written against the code: `CEDE3`. */
  readonly glued: string | null;
}

/** Reads throw boxes of one survey. */
export class ThrowReader {
  constructor(
    readonly finder: Finder,
    readonly scale: Scale,
  ) {}

  /** A plant's name, or its code, from this word on. */
  #named(words: readonly Word[], at: number): Named | undefined {
    for (let length = Math.min(LONGEST_NAME, words.length - at); length > 0; length--) {
      const phrase = words.slice(at, at + length).map((word) => word.text);
      if (phrase.includes("=")) continue;
      const plant = this.finder.exact(phrase.join(" "));
      if (plant) return { plant, words: length, glued: null };
    }
    const word = words[at]?.text ?? "";
    for (let cut = word.length - 1; cut > 1; cut--) {
      const [head, tail] = [word.slice(0, cut), word.slice(cut)];
      const digits = /^\d+$/.test(tail);
      if (!this.scale.rating(tail)) continue;
      const plant = this.finder.byCode(head) ?? (digits ? this.finder.only(head) : undefined);
      if (plant) return { plant, words: 1, glued: tail };
    }
    return undefined;
  }

  /** True when the word after a plant says how much of it, or how it was seen. */
  #says(word: string | undefined): boolean {
    return word !== undefined && (this.#rates(word) || word === NO_RATING);
  }

  #rates(word: string): boolean {
    return this.scale.rating(word) !== undefined || word.toLowerCase() === SEEN_WORD;
  }

  #find(plant: Plant, word: string | null): Find {
    const step = word === null ? this.scale.single : this.scale.rating(word);
    if (!step) {
      const visual = word?.toLowerCase() === SEEN_WORD;
      return { taxon: plant.code, rating: null, seen: visual ? "visual" : "rake" };
    }
    return { taxon: plant.code, rating: step.code, seen: step.value === null ? "visual" : "rake" };
  }

  read(text: string): ThrowCell {
    const words = split(text);
    const [first] = words;
    if (!first) return EMPTY;
    if (words.length === 1 && NOT_MADE.test(first.text)) return { ...EMPTY, kind: "not made" };
    const finds: Find[] = [];
    const slips: Slip[] = [];
    let total: string | null = null;
    let bare = false;
    const slip = (from: Word, to: Word, why: Slip["why"]) =>
      slips.push({ from: from.from, to: to.to, text: text.slice(from.from, to.to), why });
    for (let at = 0; at < words.length; ) {
      const word = words[at] as Word;
      const after = words[at + 1];
      if (word.text === "=" && after && this.scale.step(after.text)) {
        total = this.scale.step(after.text)?.code ?? null;
        at += 2;
        continue;
      }
      if (this.scale.isBare(word.text) && !this.finder.byCode(word.text)) {
        bare = true;
        at += 1;
        continue;
      }
      const named = this.#named(words, at);
      if (!named) {
        // words that mean nothing alone may be one mistyped name
        let end = at + 1;
        while (end < words.length && !this.#named(words, end) && !this.#says(words[end]?.text)) {
          if (words[end]?.text === "=") break;
          end++;
        }
        const last = words[end - 1] as Word;
        const written = text.slice(word.from, last.to);
        const alone = end === at + 1 && this.#rates(word.text) && !this.finder.begins(word.text);
        const several = this.finder.complete(written).length > 1;
        slip(word, last, alone ? "rating alone" : several ? "several" : "no plant");
        at = end;
        if (!alone && this.#says(words[at]?.text)) at++;
        continue;
      }
      at += named.words;
      let said = named.glued;
      const next = words[at];
      if (said === null && next && this.#says(next.text)) {
        said = next.text;
        at++;
      }
      const find = this.#find(named.plant, said);
      const twice = finds.some((one) => one.taxon === find.taxon && one.seen === find.seen);
      if (twice) slip(word, words[at - 1] as Word, "twice");
      else finds.push(find);
    }
    if (bare && finds.some((find) => find.seen === "rake")) {
      slip(first, words.at(-1) as Word, "bare with plants");
    }
    if (bare) total = this.scale.zero?.code ?? null;
    return { kind: "thrown", total, finds, slips };
  }

  /** A throw as it stands in its box when nobody types there. */
  write(cell: Pick<ThrowCell, "kind" | "total" | "finds">): string {
    if (cell.kind === "empty") return "";
    if (cell.kind === "not made") return "–";
    const zero = cell.total !== null && cell.total === this.scale.zero?.code;
    const parts = cell.finds.map((find) => {
      if (find.rating !== null) {
        return find.rating === this.scale.single?.code
          ? find.taxon
          : `${find.taxon} ${find.rating}`;
      }
      return `${find.taxon} ${find.seen === "visual" ? "V" : NO_RATING}`;
    });
    if (cell.total !== null && !zero) parts.unshift(`= ${cell.total}`);
    else if (zero || parts.length === 0) parts.unshift("0");
    return parts.join("  ");
  }

  /** The text in its tidy form; what was not understood stays as typed. */
  tidy(text: string): string {
    const cell = this.read(text);
    return cell.slips.length > 0 ? text.trim() : this.write(cell);
  }

  /** The word or words the caret stands in that name no plant yet: what to complete. */
  inHand(text: string, caret: number): { from: number; query: string } | undefined {
    const before = text.slice(0, caret);
    if (/[\s,;=]$/.test(before) || before === "") {
      // a name of several words goes on after its blank
      const slip = this.read(before).slips.at(-1);
      if (!slip || slip.to < before.trimEnd().length || slip.why === "twice") return undefined;
      return { from: slip.from, query: slip.text };
    }
    const words = split(before);
    const last = words.at(-1);
    if (!last) return undefined;
    const cell = this.read(before);
    const slip = cell.slips.at(-1);
    if (slip && slip.to === last.to) {
      if (slip.why === "twice" || slip.why === "bare with plants") return undefined;
      return { from: slip.from, query: slip.text };
    }
    if (this.#says(last.text) && words.length > 1) return undefined;
    if (this.scale.isBare(last.text) || last.text === "=" || NOT_MADE.test(last.text))
      return undefined;
    return { from: last.from, query: last.text };
  }

  /** Puts a chosen plant in the place of the query; a rating goes on from there. */
  choose(text: string, caret: number, from: number, plant: Plant): { text: string; caret: number } {
    const head = `${text.slice(0, from)}${plant.code} `;
    return { text: head + text.slice(caret).trimStart(), caret: head.length };
  }

  /**
   * What one more key makes of the text before the caret: a blank takes the only plant that begins
   * so; a rating after a plant ends the find, and a second blank after it is swallowed.
   */
  key(before: string, key: string): string | undefined {
    if (key === " ") {
      if (before.endsWith(" ")) return before;
      const hand = this.inHand(before, before.length);
      if (!hand || this.finder.exact(hand.query)) return undefined;
      const only = this.finder.only(hand.query);
      return only ? `${before.slice(0, hand.from)}${only.code} ` : undefined;
    }
    const words = split(before);
    const last = words.at(-1);
    if (!last || key.length !== 1) return undefined;
    if (before.endsWith(" ")) {
      const rates =
        this.scale.byOneKey(key) ||
        (key.toLowerCase() === SEEN_WORD && !this.scale.step(key)) ||
        key === NO_RATING;
      if (!rates) return undefined;
      // only straight after a plant: anywhere else the letter begins a code
      const cell = this.read(before);
      const unrated = this.#named(words, words.length - 1) || this.#endsWithName(words);
      if (!unrated || this.#saidLast(words)) return undefined;
      if (cell.slips.length > 0 && cell.slips.at(-1)?.to === last.to) return undefined;
      return `${before}${key.toUpperCase()} `;
    }
    // a number straight after the letters: CE3
    if (/\d/.test(key) && this.scale.byOneKey(key) && !this.finder.begins(last.text + key)) {
      const hand = this.inHand(before, before.length);
      const plant = hand && (this.finder.byCode(hand.query) ?? this.finder.only(hand.query));
      if (hand && plant) return `${before.slice(0, hand.from)}${plant.code} ${key} `;
    }
    return undefined;
  }

  #endsWithName(words: readonly Word[]): boolean {
    for (let at = Math.max(0, words.length - LONGEST_NAME); at < words.length; at++) {
      const phrase = words.slice(at).map((word) => word.text);
      if (this.finder.exact(phrase.join(" "))) return true;
    }
    return false;
  }

  /** True when the last word already rates the plant before it. */
  #saidLast(words: readonly Word[]): boolean {
    const last = words.at(-1)?.text ?? "";
    return this.#says(last) && words.length > 1 && this.#endsWithName(words.slice(0, -1));
  }
}
