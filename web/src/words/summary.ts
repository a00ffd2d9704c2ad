// The summary by rule, as it comes from the book: sentences by question, each with its figures.
import type { FigureView, SentenceView } from "../api/contract";
import type { Place } from "../state/route.svelte";
import type { Units } from "../units/units";
import { pValue } from "./compare";
import { brief, fixed, percent, points } from "./numbers";

/** Sentences that answer one question. */
export interface Topic {
  readonly topic: string;
  readonly question: string;
  readonly sentences: readonly (SentenceView & { readonly index: number })[];
}

/** Sentences by the question they answer, numbered through. */
export function topics(summary: readonly SentenceView[]): Topic[] {
  const found = new Map<string, Topic & { sentences: (SentenceView & { index: number })[] }>();
  const order = [...new Set(summary.map((sentence) => sentence.topic))];
  const sorted = order.flatMap((topic) => summary.filter((one) => one.topic === topic));
  sorted.forEach((sentence, i) => {
    const { topic, question } = sentence;
    const known = found.get(topic) ?? { topic, question, sentences: [] };
    known.sentences.push({ ...sentence, index: i + 1 });
    found.set(topic, known);
  });
  return [...found.values()];
}

/** The page that shows what a topic speaks of; none for the page itself. */
export const pageOf = (topic: string): Place | null =>
  (({ changed: "compare", moved: "spread", worked: "efficacy" }) as Record<string, Place>)[topic] ??
  null;

/** A sentence in parts: `Cannot tell` leads, what stands in brackets are figures. */
export function sentenceParts(
  sentence: string,
): { readonly text: string; readonly kind: "lead" | "plain" | "figures" }[] {
  const lead = /^Cannot tell\b/.exec(sentence)?.[0] ?? "";
  const rest = sentence.slice(lead.length);
  const parts = rest.split(/(\([^()]*\))/).filter((text) => text !== "");
  return [
    ...(lead ? [{ text: lead, kind: "lead" as const }] : []),
    ...parts.map((text) => ({
      text,
      kind: text.startsWith("(") ? ("figures" as const) : ("plain" as const),
    })),
  ];
}

const NAMES: Record<string, string> = {
  frequency_any: "sites with any plant",
  frequency: "sites with it",
  max_plant_depth_m: "deepest plant",
  richness: "kinds",
  introduced: "introduced kinds",
  chao2: "kinds there may be",
  missed_at_most: "places it may still stand at, at most",
  sites_sampled: "sites sampled",
  difference: "change",
  detectable: "smallest change it can see",
  taxa: "kinds",
  log_odds_per_year: "log odds a year",
  surveys: "surveys",
  shift_m: "shift",
  bearing_deg: "bearing",
  p: "p",
};
const SHARES = new Set(["frequency_any", "frequency", "missed_at_most"]);
const POINTS = new Set(["difference", "detectable"]);
const LENGTHS = new Set(["shift_m"]);

function valueWords(name: string, value: number, units: Units): string {
  if (SHARES.has(name)) return percent(value);
  if (POINTS.has(name)) return name === "difference" ? points(value) : fixed(value * 100);
  if (name === "max_plant_depth_m") return units.depth(value);
  if (LENGTHS.has(name)) return units.length(value);
  if (name === "p") return pValue(value);
  if (name === "log_odds_per_year") return fixed(value, 2);
  if (name === "bearing_deg") return `${fixed(value)}°`;
  return brief(value);
}

/** A figure behind a sentence with its interval: `sites with any plant 92 % (84 to 96 %)`. */
export function figureWords(figure: FigureView, units: Units): string {
  const { name, value, low, high } = figure;
  const said = NAMES[name] ?? name.replaceAll("_", " ");
  const unit = POINTS.has(name) ? " points" : "";
  const limits =
    low === null || high === null
      ? ""
      : ` (${valueWords(name, low, units)} to ${valueWords(name, high, units)})`;
  return `${said} ${valueWords(name, value, units)}${unit}${limits}`;
}
