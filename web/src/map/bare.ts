import type { CompareView, SurveySitesView } from "../api/contract";

/** A site where no plant came up either time. */
export interface Bare {
  readonly code: string;
  readonly x: number;
  readonly y: number;
}

/** Two places a pair may be apart, metres: twice what a handheld GPS may be off (common practice). */
const APART = 20;

/**
 * Sites sampled without plants both times: the comparison lists only sites that had some. None unless
 * they and the listed ones make up all its pairs, for then it is not known which sites it paired.
 */
export function bareBoth(
  earlier: SurveySitesView,
  later: SurveySitesView,
  compare: CompareView,
): Bare[] {
  if (compare.pairs === null) return [];
  const listed = new Set(compare.places.map((place) => place.code));
  const before = new Map(earlier.sites.map((site) => [site.code, site]));
  const bare = later.sites.flatMap((site): Bare[] => {
    const old = before.get(site.code);
    if (listed.has(site.code) || !old || site.x === null || site.y === null) return [];
    const sampled = [site, old].every((one) => one.outcome?.startsWith("sampled-"));
    const moved = old.x === null || old.y === null ? 0 : Math.hypot(site.x - old.x, site.y - old.y);
    return sampled && moved <= APART ? [{ code: site.code, x: site.x, y: site.y }] : [];
  });
  return bare.length + listed.size === compare.pairs ? bare : [];
}
