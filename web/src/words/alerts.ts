// What is new, a line a plant: first finds in several zones are told together.
import type { AlertView } from "../api/contract";
import { whole } from "./compare";
import { counted, listed } from "./numbers";
import { called } from "./taxon";

/** A line of what is new. */
export interface NewItem {
  readonly code: string;
  readonly text: string;
}

function limitWords(alert: AlertView): string {
  if (!alert.limit) return "";
  const doubt =
    alert.certain === false ? " The interval reaches below the limit: it may not be passed." : "";
  return ` The board wrote on ${alert.limit.adopted}: “${alert.limit.text}”.${doubt}`;
}

/** Lines in the order they came; the zones of one plant stand in one. */
export function newItems(alerts: readonly AlertView[]): NewItem[] {
  const zones = new Map<string, AlertView[]>();
  for (const alert of alerts) {
    if (alert.kind !== "first-in-zone" || alert.zone === null) continue;
    zones.set(alert.code, [...(zones.get(alert.code) ?? []), alert]);
  }
  const told = new Set<string>();
  return alerts.flatMap((alert): NewItem[] => {
    const together = alert.kind === "first-in-zone" ? (zones.get(alert.code) ?? []) : [];
    if (together.length < 2) {
      return [{ code: alert.code, text: whole(alert.sentence) + limitWords(alert) }];
    }
    if (told.has(alert.code)) return [];
    told.add(alert.code);
    const where = together.map((one) => `${one.zone} (${counted(one.sites.length, "site")})`);
    const blanks = together.map((one) => one.blanks_before ?? 0);
    const [fewest, most] = [Math.min(...blanks), Math.max(...blanks)];
    const before =
      fewest === 0
        ? "in some of them nobody had looked before"
        : `${counted(fewest, "earlier survey")}${fewest < most ? " or more" : ""} did not find it there`;
    return [
      {
        code: alert.code,
        text: `First record of ${called(alert)} in zones ${listed(where)}: ${before}.`,
      },
    ];
  });
}
