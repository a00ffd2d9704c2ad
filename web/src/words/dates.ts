const MONTHS = [
  "January",
  "February",
  "March",
  "April",
  "May",
  "June",
  "July",
  "August",
  "September",
  "October",
  "November",
  "December",
] as const;

interface Day {
  year: number;
  month: string;
  day: number;
}

function day(iso: string): Day | null {
  const match = /^(\d{4})-(\d{2})-(\d{2})/.exec(iso);
  const month = MONTHS[Number(match?.[2]) - 1];
  return match && month ? { year: Number(match[1]), month, day: Number(match[3]) } : null;
}

/** `14 July 2026`; as it came when it is no date. */
export function longDate(iso: string): string {
  const found = day(iso);
  return found ? `${found.day} ${found.month} ${found.year}` : iso;
}

/** `July 2026`. */
export function monthYear(iso: string): string {
  const found = day(iso);
  return found ? `${found.month} ${found.year}` : iso;
}

/** `14 to 16 July 2026`, `30 July to 2 August 2026`, `14 July 2026`; empty without a first day. */
export function dateRange(start: string | null, end: string | null): string {
  if (!start) return "";
  const [a, b] = [day(start), end ? day(end) : null];
  if (!a || !b || start === end) return longDate(start);
  if (a.year !== b.year) return `${longDate(start)} to ${longDate(end ?? start)}`;
  const first = a.month === b.month ? `${a.day}` : `${a.day} ${a.month}`;
  return `${first} to ${b.day} ${b.month} ${b.year}`;
}

/** When the book was last written, in the reader's own time: a time today, else a day. */
export function keptAt(instant: string, now: Date): string {
  const at = new Date(instant);
  if (Number.isNaN(at.getTime())) return instant;
  if (at.toDateString() === now.toDateString()) {
    const two = (value: number) => String(value).padStart(2, "0");
    return `${two(at.getHours())}:${two(at.getMinutes())}`;
  }
  return `${at.getDate()} ${MONTHS[at.getMonth()]?.slice(0, 3)} ${at.getFullYear()}`;
}

/** `14:32:07` in the reader's own time. */
export function clock(instant: string): string {
  const at = new Date(instant);
  const two = (value: number) => String(value).padStart(2, "0");
  return Number.isNaN(at.getTime())
    ? instant
    : `${two(at.getHours())}:${two(at.getMinutes())}:${two(at.getSeconds())}`;
}
