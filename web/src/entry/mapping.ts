// The column map of a file: TOML as the program writes it, changed a line at a time.

/** What a column may be taken for, with the words a person chooses by. */
export const MEANINGS: readonly (readonly [key: string, words: string])[] = [
  ["site", "site"],
  ["date", "day"],
  ["time", "time of day"],
  ["depth", "depth"],
  ["sediment", "bottom"],
  ["outcome", "outcome"],
  ["throw", "number of the throw"],
  ["total_rating", "rating of the whole rake"],
  ["taxon", "plant"],
  ["rating", "rating of the plant"],
  ["how_seen", "how it was seen"],
  ["taxon_column", "ratings of one plant"],
  ["comment", "remark"],
  ["landmark", "landmark"],
  ["zone", "zone"],
  ["crew", "crew"],
  ["latitude", "latitude"],
  ["longitude", "longitude"],
  ["x", "easting"],
  ["y", "northing"],
  ["species_total", "its own count of species"],
  ["species_native", "its own count of natives"],
  ["ignored", "leave out"],
];

export const meaningWords = (key: string): string =>
  key === "unknown"
    ? "not understood, not read"
    : key === "paired"
      ? "belongs to the column before it"
      : (MEANINGS.find(([known]) => known === key)?.[1] ?? key);

const quoted = (text: string) => JSON.stringify(text);

/** A map in its parts: what stands before the first table, and the tables by name. */
function parts(toml: string): { head: string[]; tables: Map<string, string[]> } {
  const head: string[] = [];
  const tables = new Map<string, string[]>();
  let lines = head;
  for (const line of toml.split("\n").filter((one) => one.trim())) {
    const table = /^\[(\w+)\]$/.exec(line.trim())?.[1];
    if (table) {
      lines = [];
      tables.set(table, lines);
    } else lines.push(line);
  }
  return { head, tables };
}

const keyOf = (line: string) => line.slice(0, line.indexOf("=")).trim();
const textAfter = (line: string) => line.slice(line.indexOf("=") + 1).trim();

/** The map with a column taken for something else; `plant` names it for a column of ratings. */
export function withMeaning(toml: string, header: string, meaning: string, plant = ""): string {
  const { head, tables } = parts(toml);
  const name = quoted(header);
  const same = (text: string) => text.toLowerCase() === name.toLowerCase();
  const columns = (tables.get("columns") ?? []).filter(
    (line) => !same(textAfter(line)) && keyOf(line) !== meaning,
  );
  const taxa = (tables.get("taxa") ?? []).filter((line) => !same(keyOf(line)));
  const ignoreLine = head.find((line) => keyOf(line) === "ignore");
  let ignored: string[] = [];
  try {
    ignored = ignoreLine ? (JSON.parse(textAfter(ignoreLine)) as string[]) : [];
  } catch {
    // written by hand in another way: it is replaced
  }
  ignored = ignored.filter((one) => !same(quoted(one)));
  if (meaning === "ignored") ignored.push(header);
  else if (meaning === "taxon_column") taxa.push(`${name} = ${quoted(plant || header)}`);
  else columns.push(`${meaning} = ${name}`);
  const text = head.filter((line) => keyOf(line) !== "ignore");
  if (ignored.length > 0) text.push(`ignore = ${JSON.stringify(ignored)}`);
  tables.set("columns", columns);
  tables.set("taxa", taxa);
  for (const [table, lines] of tables) {
    if (lines.length > 0) text.push("", `[${table}]`, ...lines);
  }
  return `${text.join("\n")}\n`;
}
