import type { Units } from "../units/units";

/** What a box says, or why it does not say it. */
export type Read<T> =
  | { readonly ok: true; readonly value: T }
  | { readonly ok: false; readonly why: string };

const good = <T>(value: T): Read<T> => ({ ok: true, value });
const bad = (why: string): Read<never> => ({ ok: false, why });
const METRES_PER_FOOT = 0.3048;

const DEPTH = /^([+-]?\d*[.,]?\d+|\d+[.,])\s*(ft|'|′|feet|m|metres|meters)?$/i;

/** A depth box in metres; a unit may stand behind the number, else it is the book's. */
export function readDepth(text: string, units: Units): Read<number | null> {
  const typed = text.trim();
  if (!typed) return good(null);
  const match = DEPTH.exec(typed);
  if (!match) return bad("a depth is a number");
  const number = Number((match[1] ?? "").replace(",", "."));
  if (!Number.isFinite(number)) return bad("a depth is a number");
  if (number < 0) return bad("a depth is not below zero");
  const unit = match[2]?.toLowerCase();
  if (!unit) return good(units.depthFrom(number));
  return good(unit.startsWith("m") ? number : number * METRES_PER_FOOT);
}

/** A depth as it stands in its box. */
export const writeDepth = (metres: number | null, units: Units): string =>
  metres === null ? "" : String(Math.round(units.depthIn(metres) * 100) / 100);

/** A number with a point or a comma, or nothing. */
export function readNumber(text: string): Read<number | null> {
  const typed = text.trim().replace("−", "-").replace(",", ".");
  if (!typed) return good(null);
  const number = Number(typed);
  return Number.isFinite(number) ? good(number) : bad("expected a number");
}

export interface Choice {
  readonly key: string;
  /** What is typed for it. */
  readonly letters: string;
  readonly words: string;
}

/** Bottoms, by the letters on the sheet. */
export const BOTTOMS: readonly Choice[] = [
  { key: "muck", letters: "mu", words: "muck" },
  { key: "sand", letters: "sa", words: "sand" },
  { key: "rock", letters: "ro", words: "rock" },
  { key: "gravel", letters: "gr", words: "gravel" },
  { key: "cobble", letters: "co", words: "cobble" },
  { key: "clay", letters: "cl", words: "clay" },
  { key: "marl", letters: "ma", words: "marl" },
  { key: "peat", letters: "pe", words: "peat" },
  { key: "detritus", letters: "de", words: "detritus" },
];

/** Bottoms that begin with what is typed, the commonest first. */
export const bottomsLike = (text: string): readonly Choice[] => {
  const typed = text.trim().toLowerCase();
  return typed ? BOTTOMS.filter((bottom) => bottom.key.startsWith(typed)) : [];
};

/** A bottom box: a word or its first letters; one letter takes the commonest it begins. */
export function readBottom(text: string): Read<string | null> {
  const typed = text.trim().toLowerCase();
  if (!typed) return good(null);
  const like = bottomsLike(typed)[0];
  return like ? good(like.key) : bad(`no bottom begins with \`${text.trim()}\``);
}

/** Why a site was not sampled, by the letters at the foot of the sheet. */
export const OUTCOMES: readonly Choice[] = [
  { key: "not-navigable-plants", letters: "P", words: "plants stop the boat" },
  { key: "too-deep", letters: "X", words: "too deep" },
  { key: "dock-or-structure", letters: "W", words: "dock or structure" },
  { key: "swim-area", letters: "WS", words: "swim area" },
  { key: "temporary-obstacle", letters: "O", words: "obstacle, gone another day" },
  { key: "private-or-unsafe", letters: "U", words: "private or unsafe: shallow, rock" },
  { key: "skipped", letters: "R", words: "not reached" },
  { key: "no-information", letters: "N", words: "nobody wrote why" },
];

export interface OutcomeCell {
  /** Why it was not sampled; none when it was. */
  readonly outcome: string | null;
  readonly note: string;
}

/** The last box: a letter for why nothing was sampled, then a remark; or a remark alone. */
export function readOutcome(text: string): OutcomeCell {
  const typed = text.trim();
  const [, word = "", rest = ""] = /^(\S+)\s*(.*)$/.exec(typed) ?? [];
  const letters = word.toUpperCase().replace(/[:,.]$/, "");
  const choice = OUTCOMES.find((one) => one.letters === letters);
  // a remark such as "a bed of lilies" is no letter
  if (choice && (word === word.toUpperCase() || rest === "")) {
    return { outcome: choice.key, note: rest };
  }
  return { outcome: null, note: typed };
}

export const outcomeWords = (key: string): string =>
  OUTCOMES.find((one) => one.key === key)?.words ?? key.replaceAll("-", " ");

/** The last box as it is typed. */
export function writeOutcome({ outcome, note }: OutcomeCell): string {
  const letters = OUTCOMES.find((one) => one.key === outcome)?.letters ?? "";
  return [letters, note].filter(Boolean).join(" ");
}

/** Choices for what is typed so far; none once a remark is under way. */
export function outcomesLike(text: string): readonly Choice[] {
  const typed = text.trim().toLowerCase();
  if (!typed) return OUTCOMES;
  if (/\s/.test(text)) return [];
  return OUTCOMES.filter(
    (one) => one.letters.toLowerCase().startsWith(typed) || one.words.startsWith(typed),
  );
}
