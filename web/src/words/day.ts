// Does the day fit? The words of a day on the water.
import type { RouteView } from "../api/contract";
import type { Units } from "../units/units";
import { choice, figure, type Part } from "./blanks";
import { dateRange } from "./dates";
import { counted, fixed, listed, sentenceCase } from "./numbers";

/** What a day is planned from. */
export function daySentence(
  launches: readonly string[],
  units: Units,
  day: string,
  own: boolean,
): Part[] {
  const us = units.system === "us";
  return [
    "Leave from ",
    choice(
      "from",
      "Launch",
      launches[0] ?? "",
      launches.map((name) => [name, name] as const),
    ),
    " at ",
    { key: "start", label: "Time the boats leave", usual: "08:30", type: "time" },
    " on ",
    { key: "date", label: "Day", usual: day, type: "date" },
    " with ",
    choice("boats", "Boats", "1", [
      ["1", "one boat"],
      ["2", "two boats"],
      ["3", "three boats"],
      ["4", "four boats"],
      ["6", "six boats"],
    ]),
    " going ",
    figure("speed", us ? "Speed, miles an hour" : "Speed, kilometres an hour", us ? 5 : 8, {
      min: 0.1,
      width: 2,
    }),
    us ? " mph and drawing " : " km/h and drawing ",
    figure("draft", `Water the boat needs, ${units.depthUnit}`, us ? 1 : 0.3, { width: 2 }),
    ` ${units.depthUnit}. A site takes `,
    choice("pace", "Time at a site", "", [
      ["", "as long as its depth and throws say"],
      ["own", "a set time:"],
    ]),
    ...(own
      ? [" ", figure("minutes", "Minutes at a site", 5, { min: 0.1, width: 2 }), " minutes"]
      : []),
    ". Back by ",
    choice("by", "Back by", "", [
      ["", "sunset"],
      ...["12:00", "13:00", "14:00", "15:00", "16:00", "17:00", "18:00"].map(
        (time) => [time, time] as const,
      ),
    ]),
    ", with ",
    choice("rest", "Rest", "", [
      ["", "no rest"],
      ["12:00/30", "half an hour at noon"],
      ["12:00/60", "an hour at noon"],
    ]),
    "; ",
    choice("order", "Order of the sites", "", [
      ["", "the shortest way"],
      ["cleanest", "from the least infested to the most"],
    ]),
    ", ",
    choice(
      "days",
      "Days",
      "1",
      [1, 2, 3, 4, 5].map((n) => [String(n), n === 1 ? "one day" : `up to ${n} days`] as const),
    ),
    ".",
  ];
}

/** `2 h 05` of minutes. */
export function minutesWords(minutes: number): string {
  const whole = Math.round(minutes);
  const hours = Math.floor(whole / 60);
  const rest = String(whole % 60);
  return hours === 0
    ? `${rest}\u00a0min`
    : `${hours}\u00a0h${whole % 60 ? `\u00a0${rest.padStart(2, "0")}` : ""}`;
}

/** The first and last sites of a boat. */
export const orderWords = (order: readonly string[]): string =>
  order.length < 7
    ? order.join(", ")
    : `${order.slice(0, 4).join(", ")} … ${order.slice(-2).join(", ")}`;

/** Sites that do not fit, in words. */
export function overWords(over: readonly string[]): string {
  if (over.length === 0) return "";
  const shown = over.length > 12 ? [...over.slice(0, 12), `${fixed(over.length - 12)} more`] : over;
  return `${sentenceCase(counted(over.length, "site"))} over: ${listed(shown)}.`;
}

/** The program's sentence, as a sentence. */
export const dayAnswer = (route: RouteView): string =>
  `${sentenceCase(route.sentence)}${/[.!?]$/.test(route.sentence) ? "" : "."}`;

/** The days of a route. */
export const daysWords = (route: RouteView): string => {
  const dates = [...new Set(route.boats.map((boat) => boat.date))].sort();
  return dateRange(dates[0] ?? null, dates.at(-1) ?? null);
};
