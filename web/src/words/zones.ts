import type { ZoneView } from "../api/contract";
import type { Units } from "../units/units";
import { fixed } from "./numbers";

/** What is known of a zone, as it is read. */
export interface ZoneRow {
  readonly code: string;
  readonly name: string;
  readonly area: string;
  readonly littoral: string;
  readonly shore: string;
  readonly depth: string;
  readonly volume: string;
  readonly rule: string;
  /** Years of use. */
  readonly use: string;
}

const known = (value: number | null, words: (value: number) => string): string =>
  value === null ? "" : words(value);

/** The rule of a zone in words; a conservation area is one too. */
function ruleOf(zone: ZoneView): string {
  const guarded = zone.protection === "conservation" ? "conservation area" : "";
  return [guarded, zone.rule].filter(Boolean).join(": ");
}

/** When a zone is in use: always, since a year, until one, or both. */
function useOf(zone: ZoneView): string {
  if (zone.since === null) return zone.until === null ? "always" : `until ${zone.until}`;
  return zone.until === null ? `since ${zone.since}` : `${zone.since} to ${zone.until}`;
}

/** Rows of the table of zones. */
export const zoneRows = (zones: readonly ZoneView[], units: Units): ZoneRow[] =>
  zones.map((zone) => ({
    code: zone.code,
    name: zone.name,
    area: fixed(units.areaIn(zone.area_m2), 1),
    littoral: known(zone.littoral_area_m2, (area) => fixed(units.areaIn(area), 1)),
    shore: known(zone.shore_m, units.longLength),
    depth: known(zone.mean_depth_m, (depth) => fixed(units.depthIn(depth), 1)),
    volume: known(zone.volume_m3, units.volume),
    rule: ruleOf(zone),
    use: useOf(zone),
  }));

/** Years whose zones may differ from those of now, the latest first: of surveys and of changes. */
export function zoneYears(
  zones: readonly ZoneView[],
  surveyed: readonly (string | null)[],
): number[] {
  const years = surveyed.map((day) => Number(day?.slice(0, 4))).filter((year) => year > 0);
  for (const { since, until } of zones) {
    if (since !== null) years.push(since, since - 1);
    if (until !== null) years.push(until, until + 1);
  }
  return [...new Set(years)].sort((a, b) => b - a);
}
