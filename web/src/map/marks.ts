import type { SurveySitesView } from "../api/contract";
import { ratingRadius } from "./discs";

/** What the map shows of a site. */
export interface SiteMark {
  readonly code: string;
  readonly x: number;
  readonly y: number;
  readonly kind:
    | "found"
    | "seen"
    | "not-found"
    | "not-reached"
    | "gained"
    | "lost"
    | "kept"
    | "planned"
    | "later"
    | "spare"
    | "dropped";
  /** Pixels before the map's own scale; for `found` alone. */
  readonly radius: number;
  /** Of the water; none when not measured. */
  readonly depth_m: number | null;
  /** In words, for a list and for the pointer. */
  readonly words: string;
  /** Stands beside the sign, where there is room. */
  readonly number?: string;
  /** Can be carried elsewhere. */
  readonly movable?: boolean;
}

/** A way over the water. */
export interface Course {
  readonly line: readonly (readonly [number, number])[];
  /** Of a second boat or day. */
  readonly later: boolean;
}

/** Steps of a scale that a rake can earn above nothing, least first. */
export const stepsAbove = (scale: SurveySitesView["scale"]): SurveySitesView["scale"]["steps"] =>
  scale.steps.filter((step) => step.value !== null && step.value > 0);

/** Said of plants whose amount nobody wrote down. */
const UNRATED = "plants, amount not rated";

const OUTCOMES: Record<string, string> = {
  "too-deep": "too deep",
  "not-navigable-plants": "not navigable because of plants",
  "dock-or-structure": "dock or structure",
  "swim-area": "swim area",
  "temporary-obstacle": "temporary obstacle",
  "private-or-unsafe": "private or unsafe",
  skipped: "skipped",
  "no-information": "no information",
};

/** An outcome that is no sample, in words. */
export const outcomeWords = (key: string): string => OUTCOMES[key] ?? key.replaceAll("-", " ");

const isSampled = (outcome: string | null): boolean => outcome?.startsWith("sampled-") ?? false;

/** Marks for one taxon, or, with none, for the fullness of the whole rake. */
export function siteMarks(view: SurveySitesView, taxon: string | null): SiteMark[] {
  const steps = stepsAbove(view.scale);
  return view.sites.flatMap((site): SiteMark[] => {
    if (site.x === null || site.y === null) return [];
    const base = {
      code: site.code,
      x: site.x,
      y: site.y,
      depth_m: site.depth_m ?? site.map_depth_m,
    };
    if (!isSampled(site.outcome)) {
      // nobody went: nothing is drawn, which is not the same as not reached
      if (site.outcome === null) return [];
      return [{ ...base, kind: "not-reached", radius: 0, words: outcomeWords(site.outcome) }];
    }
    if (taxon === null) {
      if (site.outcome === "sampled-without-plants") {
        return [{ ...base, kind: "not-found", radius: 0, words: "no plants" }];
      }
      const values = steps.map((step) => step.value ?? 0);
      const rank =
        site.total_rating === null ? 0 : values.findIndex((v) => v >= (site.total_rating ?? 0)) + 1;
      const radius = rank > 0 ? ratingRadius(rank, steps.length) : 4.3;
      const words = steps[rank - 1]?.name ?? UNRATED;
      return [{ ...base, kind: "found", radius, words }];
    }
    const here = site.taxa.filter((found) => found.code === taxon);
    const raked = here.find((found) => found.seen === "rake");
    if (raked) {
      const radius = raked.rank === null ? 4.3 : ratingRadius(raked.rank, steps.length);
      const words = steps.find((step) => step.code === raked.rating)?.name ?? "found";
      return [{ ...base, kind: "found", radius, words }];
    }
    if (here.length > 0) {
      const ashore = here.every((found) => found.seen === "shoreline");
      const words = ashore ? "on the shore" : "seen, not on the rake";
      return [{ ...base, kind: "seen", radius: 0, words }];
    }
    return [{ ...base, kind: "not-found", radius: 0, words: "not found" }];
  });
}

/** Sampled sites by the fullness of the whole rake: bare, each step, and plants nobody rated. */
export function fullness(
  view: SurveySitesView,
): { rank: number; name: string; measure: string; sites: number }[] {
  const marks = siteMarks(view, null);
  const at = (words: string) => marks.filter((mark) => mark.words === words).length;
  const steps = stepsAbove(view.scale);
  const unrated = at(UNRATED);
  return [
    { rank: 0, name: "no plants", measure: "the rake came up bare", sites: at("no plants") },
    ...steps.map((step, i) => ({
      rank: i + 1,
      name: step.name,
      measure: step.measure,
      sites: at(step.name),
    })),
    ...(unrated > 0
      ? [{ rank: 1, name: "not rated", measure: "plants, amount not written down", sites: unrated }]
      : []),
  ];
}

/** A site sampled twice and what it gained, lost and kept, by codes of taxa. */
interface SiteOfBoth {
  readonly code: string;
  readonly x: number | null;
  readonly y: number | null;
  readonly gained: readonly string[];
  readonly lost: readonly string[];
  readonly kept: readonly string[];
}

/** What became of a plant at a site, in words. */
export const CHANGE_WORDS = {
  gained: "found later only",
  lost: "found earlier only",
  kept: "found both times",
  "not-found": "not found either time",
} as const;

export type ChangeKind = keyof typeof CHANGE_WORDS;

/** What became of one taxon at a site. */
export function changeAt(site: Omit<SiteOfBoth, "code" | "x" | "y">, taxon: string): ChangeKind {
  if (site.gained.includes(taxon)) return "gained";
  if (site.lost.includes(taxon)) return "lost";
  return site.kept.includes(taxon) ? "kept" : "not-found";
}

/** A mark for a site looked at twice. */
export const changeMark = (
  site: { readonly code: string; readonly x: number; readonly y: number },
  kind: ChangeKind,
): SiteMark => ({
  code: site.code,
  x: site.x,
  y: site.y,
  kind,
  radius: kind === "not-found" ? 0 : 5.4,
  depth_m: null,
  words: CHANGE_WORDS[kind],
});

/** Marks of what one taxon gained and lost; sites without a position are left out. */
export const changeMarks = (places: readonly SiteOfBoth[], taxon: string): SiteMark[] =>
  places.flatMap((site) => {
    const { x, y } = site;
    return x === null || y === null
      ? []
      : [changeMark({ code: site.code, x, y }, changeAt(site, taxon))];
  });
