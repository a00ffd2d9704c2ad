// The header of a sheet: what stands in its boxes, and the same in the book's units.
import type { CrewView, DayBody, HeaderBody, WordView } from "../api/contract";
import type { Units } from "../units/units";
import { type Read, readDepth, readNumber } from "./cells";

export type HeaderBox =
  | "date"
  | "start"
  | "end"
  | "air_c"
  | "water_c"
  | "weather"
  | "wind_words"
  | "secchi_m"
  | "water_level_m"
  | "crew";

const isUs = (units: Units) => units.system === "us";
export const degrees = (units: Units): string => (isUs(units) ? "°F" : "°C");

const MONTHS = ["jan", "feb", "mar", "apr", "may", "jun", "jul", "aug", "sep", "oct", "nov", "dec"];

/** A day: `2026-07-14`, `14 July 2026`, `July 14, 2026`, and in a book of feet `7/14/2026`. */
export function readDay(text: string, units: Units): Read<string | null> {
  const typed = text.trim().toLowerCase();
  if (!typed) return { ok: true, value: null };
  let found: [year: number, month: number, day: number] | undefined;
  const iso = /^(\d{4})-(\d{1,2})-(\d{1,2})$/.exec(typed);
  const slashed = /^(\d{1,2})\/(\d{1,2})\/(\d{4})$/.exec(typed);
  const words = /^(\d{1,2})\.?\s+([a-z]{3,})\s+(\d{4})$/.exec(typed);
  const turned = /^([a-z]{3,})\s+(\d{1,2}),?\s+(\d{4})$/.exec(typed);
  const month = (word = "") => MONTHS.indexOf(word.slice(0, 3)) + 1;
  if (iso) found = [Number(iso[1]), Number(iso[2]), Number(iso[3])];
  else if (slashed && isUs(units)) {
    found = [Number(slashed[3]), Number(slashed[1]), Number(slashed[2])];
  } else if (words) found = [Number(words[3]), month(words[2]), Number(words[1])];
  else if (turned) found = [Number(turned[3]), month(turned[1]), Number(turned[2])];
  const [y, m, d] = found ?? [0, 0, 0];
  const date = new Date(Date.UTC(y, m - 1, d));
  if (!found || date.getUTCMonth() !== m - 1 || date.getUTCDate() !== d) {
    return { ok: false, why: "write the day as 2026-07-14" };
  }
  return { ok: true, value: date.toISOString().slice(0, 10) };
}

/** A time of day: `8:40`, `0840`, `8.40`, `8:40 am`. */
export function readClock(text: string): Read<string | null> {
  const typed = text.trim().toLowerCase();
  if (!typed) return { ok: true, value: null };
  const match = /^(\d{1,2})[:.h]?(\d{2})?\s*(am|pm)?$/.exec(typed);
  let hour = Number(match?.[1]);
  const minute = Number(match?.[2] ?? 0);
  if (match?.[3] === "pm" && hour < 12) hour += 12;
  if (match?.[3] === "am" && hour === 12) hour = 0;
  if (!match || hour > 23 || minute > 59) return { ok: false, why: "write the time as 08:40" };
  const two = (value: number) => String(value).padStart(2, "0");
  return { ok: true, value: `${two(hour)}:${two(minute)}` };
}

const fromFahrenheit = (value: number) => ((value - 32) * 5) / 9;
const toFahrenheit = (value: number) => (value * 9) / 5 + 32;

function readTemperature(text: string, units: Units): Read<number | null> {
  const match = /^([^°a-z]*)°?\s*([fc])?$/i.exec(text.trim());
  const number = readNumber(match?.[1] ?? text);
  if (!number.ok || number.value === null) return number;
  const fahrenheit = match?.[2] ? match[2].toLowerCase() === "f" : isUs(units);
  return { ok: true, value: fahrenheit ? fromFahrenheit(number.value) : number.value };
}

const rounded = (value: number, digits: number) =>
  String(Math.round(value * 10 ** digits) / 10 ** digits);

/** A crew as it is written: `T. Kay rake, A. Marsh pencil*`; the star marks who named the plants. */
export function writeCrew(crew: readonly CrewView[], roles: readonly WordView[]): string {
  const words = (key: string) => roles.find((role) => role.key === key)?.words ?? key;
  return crew
    .map(
      (one) => `${one.name}${one.role ? ` (${words(one.role)})` : ""}${one.identified ? " *" : ""}`,
    )
    .join(", ");
}

export function readCrew(text: string, roles: readonly WordView[]): CrewView[] {
  const roleOf = (word: string) => {
    const typed = word.trim().toLowerCase();
    return roles.find((role) => role.key === typed || role.words.toLowerCase() === typed);
  };
  return text
    .split(/[,;]/)
    .map((part) => part.trim())
    .filter(Boolean)
    .map((part) => {
      const identified = part.includes("*");
      const plain = part.replaceAll("*", "").trim();
      const bracketed = /^(.*?)\s*\(([^)]*)\)$/.exec(plain);
      const last = /^(.+)\s+(\S+)$/.exec(plain);
      const [name = plain, word = ""] = bracketed?.slice(1) ?? last?.slice(1) ?? [];
      const role = roleOf(word);
      const kept = role || bracketed ? name.trim() : plain;
      return { name: kept, role: role?.key ?? roles.at(-1)?.key ?? "", identified };
    });
}

export const EMPTY_DAY: DayBody = {
  date: null,
  start: null,
  end: null,
  air_c: null,
  water_c: null,
  weather: "",
  wind_m_s: null,
  wind_words: "",
  secchi_m: null,
  water_level_m: null,
  gear: "",
};

/** What stands in a box of the header. */
export function headerText(
  header: HeaderBody,
  day: DayBody,
  box: HeaderBox,
  units: Units,
  roles: readonly WordView[],
): string {
  switch (box) {
    case "crew":
      return writeCrew(header.crew, roles);
    case "air_c":
    case "water_c": {
      const value = day[box];
      return value === null ? "" : rounded(isUs(units) ? toFahrenheit(value) : value, 1);
    }
    case "secchi_m":
    case "water_level_m": {
      const value = day[box];
      return value === null ? "" : rounded(units.depthIn(value), 2);
    }
    default:
      return day[box] ?? "";
  }
}

/** The header with another text in a box, or why it cannot be read. */
export function withHeaderText(
  header: HeaderBody,
  at: number,
  box: HeaderBox,
  text: string,
  units: Units,
  roles: readonly WordView[],
): Read<HeaderBody> {
  if (box === "crew") return { ok: true, value: { ...header, crew: readCrew(text, roles) } };
  const day = header.days[at] ?? EMPTY_DAY;
  let read: Read<string | number | null>;
  if (box === "date") read = readDay(text, units);
  else if (box === "start" || box === "end") read = readClock(text);
  else if (box === "air_c" || box === "water_c") read = readTemperature(text, units);
  else if (box === "secchi_m") read = readDepth(text, units);
  else if (box === "water_level_m") {
    const number = readNumber(text);
    read =
      number.ok && number.value !== null
        ? { ok: true, value: units.depthFrom(number.value) }
        : number;
  } else read = { ok: true, value: text.trim() };
  if (!read.ok) return read;
  const days = [...header.days];
  while (days.length <= at) days.push(EMPTY_DAY);
  days[at] = { ...day, [box]: read.value };
  const dates = days.flatMap((one) => (one.date ? [one.date] : [])).sort();
  // the survey lasts from its first day to its last
  const start = dates[0] ?? header.start;
  const end = dates.at(-1) ?? header.end;
  return { ok: true, value: { ...header, days, start, end } };
}
