import type { SurveyView, TaxonFindingView } from "../api/contract";
import { monthYear } from "./dates";

/** What a taxon is called in a sentence. */
export const called = (taxon: {
  common_name: string;
  scientific_name: string;
  code: string;
}): string => taxon.common_name || taxon.scientific_name || taxon.code;

/** The Latin name beside it, where it says something more. */
export const latin = (taxon: { common_name: string; scientific_name: string }): string =>
  taxon.common_name && taxon.common_name !== taxon.scientific_name ? taxon.scientific_name : "";

/** When a survey was, in short. */
export const when = (
  survey: Pick<SurveyView, "name" | "start"> | undefined,
  otherwise: string,
): string => (survey?.start ? monthYear(survey.start) : otherwise);

/** Denominators a share may stand on. */
export const DENOMINATORS = ["all", "littoral", "vegetated"] as const;
export type Denominator = (typeof DENOMINATORS)[number];

export const isDenominator = (word: string | null): word is Denominator =>
  DENOMINATORS.some((known) => known === word);

/** Taxa that count, found on the rake. */
export const plantsOnRake = (taxa: readonly TaxonFindingView[]): TaxonFindingView[] =>
  taxa.filter((taxon) => taxon.is_plant && taxon.sites > 0);
