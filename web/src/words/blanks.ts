// Sentences with changeable words: a choice, or something to fill in.
import type { Word } from "./effort";

/** A figure, a day, a time or a name to be filled in. */
export interface Blank {
  readonly key: string;
  readonly label: string;
  readonly usual: string;
  readonly type: "number" | "text" | "date" | "time";
  readonly min?: number;
  readonly max?: number;
  /** Width in figures. */
  readonly width?: number;
  readonly placeholder?: string;
}

export type Part = string | Word | Blank;

export const isWord = (part: Part): part is Word => typeof part !== "string" && "choices" in part;
export const isBlank = (part: Part): part is Blank => typeof part !== "string" && "type" in part;

/** The value of a changeable word: what was chosen, else the usual. */
export type Chosen = (key: string) => string | null;

/** A number to be filled in. */
export const figure = (
  key: string,
  label: string,
  usual: number | string,
  more: { min?: number; max?: number; width?: number; placeholder?: string } = {},
): Blank => ({ key, label, usual: String(usual), type: "number", min: 0, width: 3, ...more });

/** A choice. */
export const choice = (
  key: string,
  label: string,
  usual: string,
  choices: Word["choices"],
): Word => ({ key, label, usual, choices });
