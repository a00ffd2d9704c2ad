import type { PlannedSiteView, SiteChangeView, SurveyView, TrackView } from "../../api/contract";
import type { SiteMark } from "../../map/marks";
import { longDate } from "../../words/dates";

/** A site of a plan, laid or only tried. */
export interface PlannedSite {
  readonly code: string;
  readonly x: number | null;
  readonly y: number | null;
  readonly zone: string | null;
  readonly depth_m: number | null;
  readonly spare: boolean;
  readonly dropped: boolean;
  /** Its record has begun, so it stays where it is. */
  readonly visited: boolean;
  /** Moved, dropped or put in by whom and why. */
  readonly note: string;
}

/** What was done to a site, without the site's own name: that stands beside it. */
const briefly = (note: string, code: string, survey: string): string =>
  note.replace(`site ${code} of ${survey} `, "").replace(`site ${code} `, "");

/** A site as the program laid it, with the last that was done to it by hand. */
export const plannedSite = (
  site: PlannedSiteView,
  survey = "",
  changes: readonly SiteChangeView[] = [],
): PlannedSite => ({
  code: site.code,
  x: site.x,
  y: site.y,
  zone: site.zone,
  depth_m: site.depth_m,
  spare: site.spare,
  dropped: site.dropped !== null,
  visited: site.visited,
  note: briefly(
    changes.findLast((change) => change.code === site.code)?.note ?? site.dropped ?? "",
    site.code,
    survey,
  ),
});

/** Every how many sites a number stands on the map. */
const everyNth = (n: number): number => (n <= 40 ? 1 : n <= 120 ? 5 : n <= 300 ? 10 : 25);

/** Marks of a plan for the map; numbers where there is room, in the order of the sites. */
export function planMarks(
  sites: readonly PlannedSite[],
  placeOf: (site: PlannedSite) => readonly [number, number] | null,
  options: {
    readonly movable: boolean;
    readonly chosen: string | null;
    /** Sites of a second boat or day. */
    readonly later?: ReadonlySet<string>;
  },
): SiteMark[] {
  const step = everyNth(sites.length);
  return sites.flatMap((site, i): SiteMark[] => {
    const at = placeOf(site);
    if (!at) return [];
    const kind = site.dropped
      ? "dropped"
      : site.spare
        ? "spare"
        : options.later?.has(site.code)
          ? "later"
          : "planned";
    const numbered = site.code === options.chosen || (!site.dropped && i % step === 0);
    const words = site.dropped ? "dropped" : site.spare ? "spare" : "planned";
    return [
      {
        code: site.code,
        x: at[0],
        y: at[1],
        kind,
        radius: site.code === options.chosen ? 4.3 : 4.2,
        depth_m: site.depth_m,
        words,
        ...(numbered ? { number: site.code } : {}),
        movable: options.movable && !site.dropped && !site.visited,
      },
    ];
  });
}

/** Why the sites of a survey stay as they are; empty when they can be changed. */
export function whyFixed(survey: SurveyView): string {
  if (!survey.seal) return "";
  return `${survey.name} was sealed ${longDate(survey.seal.at)}; its sites stay where they were.`;
}

/** Where the boat worked, and, where the plan has them, the sites it missed. */
export function trackMarks(
  track: TrackView,
  sites: readonly PlannedSite[],
  chosen: string | null,
): SiteMark[] {
  const planned = new Map(sites.map((site) => [site.code, site]));
  return track.sites.flatMap((one): SiteMark[] => {
    const site = planned.get(one.code);
    const x = one.x ?? site?.x ?? null;
    const y = one.y ?? site?.y ?? null;
    if (x === null || y === null || (one.missed && site?.spare)) return [];
    const numbered = one.missed || one.code === chosen;
    return [
      {
        code: one.code,
        x,
        y,
        kind: one.missed ? "not-reached" : "planned",
        radius: 4.2,
        depth_m: site?.depth_m ?? null,
        words: one.missed ? "missed" : "the boat was here",
        ...(numbered ? { number: one.code } : {}),
      },
    ];
  });
}
