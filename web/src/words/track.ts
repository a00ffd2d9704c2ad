// Where was the boat? The words of a track against the plan.
import type { TrackView } from "../api/contract";
import type { Units } from "../units/units";
import { counted, fixed, listed } from "./numbers";

/** `09:05` of an hour with its day. */
export const hourOf = (time: string | null): string => time?.slice(11, 16) ?? "";

const MOST_NAMED = 12;

/** Sites by name, the first of many. */
export const namedSites = (codes: readonly string[]): string =>
  listed(
    codes.length > MOST_NAMED
      ? [...codes.slice(0, MOST_NAMED), `${fixed(codes.length - MOST_NAMED)} more`]
      : codes,
  );

/** How far off the plan half of the sites were worked at most; none when nobody came. */
export function usualOffset(track: TrackView): number | null {
  const off = track.sites
    .flatMap((site) => (site.off_m === null ? [] : [site.off_m]))
    .sort((a, b) => a - b);
  return off[Math.floor((off.length - 1) / 2)] ?? null;
}

/** The answer in a sentence or two. */
export function trackAnswer(track: TrackView, units: Units): string {
  const came = track.sites.filter((site) => !site.missed).length;
  const off = usualOffset(track);
  const hours =
    track.start && track.end ? `, out from ${hourOf(track.start)} to ${hourOf(track.end)}` : "";
  const near =
    off === null ? "" : ` Half of them were worked within ${units.length(off)} of the plan.`;
  const missed =
    track.missed.length === 0
      ? " None was missed."
      : ` ${counted(track.missed.length, "site")} missed: ${namedSites(track.missed)}.`;
  const sentence = `The boat was at ${counted(came, "site")} of ${fixed(track.sites.length)}${hours}.`;
  return `${sentence}${near}${missed.replace(/^ [a-z]/, (start) => start.toUpperCase())}`;
}
