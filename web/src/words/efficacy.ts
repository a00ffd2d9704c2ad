// The words of `Did it work?`.
import type {
  ControlView,
  EffectView,
  EfficacyView,
  TaxonEffectView,
  TreatmentView,
} from "../api/contract";
import { dateRange, monthYear } from "./dates";
import { fixed, hundredths, percent, points } from "./numbers";

/** A question that can be asked: codes of treatments and what they are called together. */
export interface TreatmentChoice {
  readonly codes: string;
  readonly name: string;
}

/** All treatments of a month together where there are several, then each; the latest first. */
export function treatmentChoices(treatments: readonly TreatmentView[]): TreatmentChoice[] {
  const months = new Map<string, TreatmentView[]>();
  for (const one of [...treatments].sort((a, b) => b.start.localeCompare(a.start))) {
    const month = one.start.slice(0, 7);
    months.set(month, [...(months.get(month) ?? []), one]);
  }
  return [...months.values()].flatMap((all) => {
    const each = all.map((one) => ({ codes: one.code, name: one.name || one.code }));
    const first = all[0];
    if (!first || all.length < 2) return each;
    const together = {
      codes: all.map((one) => one.code).join(","),
      name: `all ${all.length} of ${monthYear(first.start)}`,
    };
    return [together, ...each];
  });
}

/** When treatments were, from the first day to the last. */
export function treatedWhen(treatments: readonly TreatmentView[]): string {
  const starts = treatments.map((one) => one.start).sort();
  const ends = treatments.map((one) => one.end || one.start).sort();
  return dateRange(starts[0] ?? null, ends.at(-1) ?? null);
}

/** Whole days between two ISO dates, the later less the earlier; none when one is missing. */
export function daysBetween(
  earlier: string | null | undefined,
  later: string | null | undefined,
): number | null {
  if (!earlier || !later) return null;
  const days = (Date.parse(later.slice(0, 10)) - Date.parse(earlier.slice(0, 10))) / 86_400_000;
  return Number.isFinite(days) ? Math.round(days) : null;
}

/** The answer that leads: `Yes.`, `No.`, `Cannot tell.` */
export const verdictWord = (verdict: string): string =>
  ({ yes: "Yes", no: "No", "cannot tell": "Cannot tell" })[verdict] ?? verdict;

/** `−56 points (−80 to −31)`. */
export function effectWords(effect: EffectView): string {
  const { difference } = effect;
  if (!difference) return "";
  const low = points(difference.low);
  const high = points(difference.high);
  return `${points(difference.value)} points (${low} to ${high})`;
}

/** `71 % (30 to 92 %)`; a percentage below zero is an increase. */
export function controlWords(control: ControlView | null): string {
  if (!control) return "undefined";
  const sure =
    control.low === null || control.high === null
      ? ", no interval"
      : ` (${hundredths(control.low)} to ${percent(control.high)})`;
  return `${percent(control.value)}${sure}`;
}

/** The answer in two: the word that leads, and the sentence without it. */
export function verdictLead(verdict: string, sentence: string): { lead: string; rest: string } {
  const word = verdictWord(verdict);
  const rest = sentence.startsWith(word) ? sentence.slice(word.length) : ` ${sentence}`;
  return { lead: sentence.startsWith(word) ? word : `${word}.`, rest };
}

/** What is said of the natives when none of them is shown to have fallen; none when one is, or none grew. */
export function nativesLine(
  natives: readonly TaxonEffectView[],
): { lead: string; rest: string } | null {
  const compared = natives.filter((one) => one.effect.difference !== null);
  if (compared.length === 0 || compared.some((one) => one.effect.verdict === "fell")) return null;
  const seen = compared.flatMap((one) => one.effect.detectable ?? []);
  const least = hundredths(Math.min(...seen));
  const most = hundredths(Math.max(...seen));
  const could =
    seen.length === 0
      ? ", and no loss could have been"
      : `, but only a loss of ${least === most ? least : `${least} to ${most}`} points or more, by kind, would have been`;
  return { lead: "Cannot tell, for the natives:", rest: ` no loss was shown${could}.` };
}

/** A row of the table. */
export interface EffectRow {
  readonly code: string;
  readonly name: string;
  readonly remark: string;
  readonly effect: EffectView;
}

/** The targets together when there are several, each target, each native. */
export function effectRows(view: EfficacyView): EffectRow[] {
  const row = (remark: string) => (one: TaxonEffectView) => ({
    code: one.code,
    name: one.common_name || one.scientific_name || one.code,
    remark,
    effect: one.effect,
  });
  const target = view.target.map(row("the target"));
  const together =
    target.length > 1
      ? [{ code: "together", name: "the targets together", remark: "", effect: view.together }]
      : [];
  return [...together, ...target, ...view.natives.map(row(""))];
}

/** Mean ratings before and after: `1.84, then 0.40`. */
export const meansWords = (means: readonly number[]): string =>
  means.map((mean) => fixed(mean, 2)).join(", then ");
