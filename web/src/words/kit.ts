// The kit list: its text is what the book keeps, its groups are what the screen shows.

/** A thing to take along, or one on the list that stays ashore. */
export interface Thing {
  readonly name: string;
  readonly taken: boolean;
}
/** A heading with its things. */
export interface Group {
  readonly title: string;
  readonly things: readonly Thing[];
}

/** Things before any heading stand under this one, as on paper. */
const FIRST = "To take along";

/** Groups of a text: `#` begins a group, `~` a thing that stays ashore. */
export function kitGroups(text: string): Group[] {
  const groups: { title: string; things: Thing[] }[] = [];
  for (const line of text.split("\n").map((one) => one.trim())) {
    if (line === "") continue;
    if (line.startsWith("#")) {
      groups.push({ title: line.slice(1).trim(), things: [] });
      continue;
    }
    if (groups.length === 0) groups.push({ title: FIRST, things: [] });
    const taken = !line.startsWith("~");
    const name = line.replace(/^[-*~]+\s*/, "");
    groups.at(-1)?.things.push({ name, taken });
  }
  return groups;
}

/** One line of one thing, without a sign of its own in front. */
export const oneThing = (name: string): string =>
  name
    .replace(/\s+/g, " ")
    .trim()
    .replace(/^[-*~#\s]+/, "");

/** The text of groups. */
export const kitText = (groups: readonly Group[]): string =>
  groups
    .map(({ title, things }) =>
      [`# ${title}`, ...things.map((one) => `${one.taken ? "" : "~ "}${one.name}`)].join("\n"),
    )
    .join("\n\n");
