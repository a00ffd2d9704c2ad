import { AnswerError } from "../api/client";
import { sentenceCase } from "./numbers";

/** What went wrong and what to do, as sentences. */
export function troubleWords(error: unknown): string {
  const hint = error instanceof AnswerError && error.hint ? ` ${sentenceCase(error.hint)}.` : "";
  return `${sentenceCase(error instanceof Error ? error.message : String(error))}.${hint}`;
}
