import type { CompareView, SurveyView, TaxonChangeView } from "../api/contract";
import { fixed, sentenceCase } from "./numbers";

/** Whether the pair lies about a treatment: one survey before it, one after. */
export const spansTreatment = (from: SurveyView | undefined, to: SurveyView | undefined): boolean =>
  from?.purpose === "pre-treatment" && to?.purpose === "post-treatment";

/** A sentence with its capital and its full stop, however it came. */
export function whole(sentence: string): string {
  const text = sentenceCase(sentence.trim());
  return /[.!?]$/.test(text) ? text : `${text}.`;
}

/** A sentence in two: what leads it, set heavier, and the rest. */
export function lead(sentence: string): { lead: string; rest: string } {
  const cut = sentence.search(/[:.;] /);
  if (cut < 0 || sentence[cut] !== ":") {
    const known = /^(Yes|No|Cannot tell)\b[,.]?/.exec(sentence);
    return known
      ? { lead: known[0], rest: sentence.slice(known[0].length) }
      : { lead: "", rest: sentence };
  }
  return { lead: sentence.slice(0, cut + 1), rest: sentence.slice(cut + 1) };
}

const KINDS: Record<string, string> = {
  scale: "Different scale.",
  season: "Other time of year.",
  observers: "Different crew.",
  "depth-cap": "Different depth.",
  sites: "Not the same sites.",
  "no-before": "No survey before.",
  "no-untreated": "Nothing untreated.",
  overlap: "Sites in both parts.",
  "few-sites": "Few sites.",
  "not-in-untreated": "Not in the untreated part.",
  "different-from-the-start": "Different from the start.",
  "density-not-compared": "Amounts not compared.",
};

/** A warning with a few words ahead of it that say what it is about. */
export function warningWords(kind: string, message: string): { lead: string; rest: string } {
  const ended = whole(message);
  const text = sentenceCase(message.trim());
  // a message that begins with those words needs them once
  const first = KINDS[kind]?.replace(/\.$/, "") ?? "";
  if (first && text.toLowerCase().startsWith(first.toLowerCase())) {
    const cut = text.search(/[:;,.]/);
    if (cut > 0) {
      return { lead: `${text.slice(0, cut)}.`, rest: sentenceCase(ended.slice(cut + 1).trim()) };
    }
  }
  return { lead: KINDS[kind] ?? `${sentenceCase(kind.replaceAll("-", " "))}.`, rest: ended };
}

/** A p value: two digits, never zero. */
export function pValue(p: number): string {
  if (p < 0.001) return "below 0.001";
  return fixed(p, p < 0.1 ? 3 : 2);
}

/** Changes that were shown first, then by size. */
export function inOrder(view: CompareView): TaxonChangeView[] {
  const told = (change: TaxonChangeView) =>
    change.verdict === "fell" || change.verdict === "rose" ? 0 : 1;
  return [...view.taxa].sort(
    (a, b) =>
      told(a) - told(b) || Math.abs(b.difference?.value ?? 0) - Math.abs(a.difference?.value ?? 0),
  );
}
