// The words of `Which way is it going?`.
import type { TrendsView, TrendView } from "../api/contract";
import type { Parts } from "./lake";
import { counted, fixed, listed, round, sentenceCase } from "./numbers";

/** Which way a trend goes, as a sign for sorting. */
const rank = (trend: TrendView): number =>
  trend.verdict === "rising" || trend.verdict === "falling" ? 0 : 1;

/** Plants whose trend was shown first, then the others as they came; any plant last. */
export function trendsInOrder(view: TrendsView): TrendView[] {
  const plants = view.taxa.filter((trend) => trend.code !== "any");
  const whole = view.taxa.filter((trend) => trend.code === "any");
  return [...plants.sort((a, b) => rank(a) - rank(b)), ...whole];
}

/** The line under the question. */
export function trendAnswer(view: TrendsView): Parts {
  const plants = view.taxa.filter((trend) => trend.code !== "any");
  const surveys = Math.max(0, ...view.taxa.map((trend) => trend.surveys.length));
  const names = (verdict: string) =>
    plants.filter((trend) => trend.verdict === verdict).map((trend) => trend.name);
  const [up, down] = [names("rising"), names("falling")];
  const untold = plants.length - up.length - down.length;
  const over = `over ${counted(surveys, "survey")}`;
  if (plants.length === 0) return [`No kind of plant was named in ${counted(surveys, "survey")}.`];
  if (up.length + down.length === 0) {
    return [
      { figure: "Cannot tell" },
      ` for any of ${counted(plants.length, "kind")} ${over}: none is shown to rise or to fall.`,
    ];
  }
  const parts: (string | { figure: string })[] = [];
  const say = (kinds: string[], word: string) => {
    if (kinds.length === 0) return;
    const verb = kinds.length === 1 ? "is" : "are";
    parts.push({ figure: sentenceCase(listed(kinds)) }, ` ${verb} ${word}. `);
  };
  say(down, "becoming rarer");
  say(up, "becoming commoner");
  if (untold > 0) parts.push(`For ${counted(untold, "other kind")}, ${over}, nobody can tell.`);
  return parts;
}

/** What odds are multiplied by: `× 0.83`. */
export const times = (ratio: number): string => `×\u00a0${fixed(ratio, 2)}`;

/** Change of the odds a year in per cent: 0.94 → `−6`; a thousand and more is only said to be more. */
export function oddsAYear(ratio: number): string {
  const change = round((ratio - 1) * 100);
  if (change >= 1000) return ">+1000";
  return change > 0 ? `+${fixed(change)}` : fixed(change);
}

/** Points a year with their sign and one digit: −0.042 → `−4.2`. */
export function pointsAYear(slope: number): string {
  const value = round(slope * 100, 1);
  return value > 0 ? `+${fixed(value, 1)}` : fixed(value, 1);
}
