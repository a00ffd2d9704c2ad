// How heavy the first load is, as it travels: the page, the scripts and styles it asks for before
// anything is clicked, packed with gzip, and every typeface. Pages that are fetched when they are
// opened are named beside it and count only for themselves. Fails above the limit.
import { readdirSync, readFileSync } from "node:fs";
import { basename, join } from "node:path";
import { fileURLToPath } from "node:url";
import { gzipSync } from "node:zlib";

const LIMIT = 400_000;
const dist = fileURLToPath(new URL("../dist", import.meta.url));
const files = readdirSync(dist, { recursive: true, encoding: "utf8" }).filter((name) =>
  /\.(html|js|css|svg|woff2)$/.test(name),
);
const read = (name) => readFileSync(join(dist, name));
const byBase = new Map(files.map((name) => [basename(name), name]));

/** Files a page or script asks for without being told to. */
function asked(name) {
  if (!/\.(html|js)$/.test(name)) return [];
  const text = read(name).toString("utf8");
  const pattern = name.endsWith(".html")
    ? /(?:src|href)="\/?([^"]+)"/g
    : /(?:\bfrom|\bimport)\s*["']([^"']+)["']/g;
  return [...text.matchAll(pattern)].flatMap((match) => byBase.get(basename(match[1])) ?? []);
}

const first = new Set();
const open = files.filter((name) => name === "index.html" || name.endsWith(".woff2"));
for (let name = open.pop(); name; name = open.pop()) {
  if (first.has(name)) continue;
  first.add(name);
  open.push(...asked(name));
}
const size = (name) =>
  name.endsWith(".woff2") ? read(name).length : gzipSync(read(name), { level: 9 }).length;
const rows = [...first].map((name) => [name, size(name)]);
const later = files.filter((name) => !first.has(name)).reduce((sum, name) => sum + size(name), 0);
const total = rows.reduce((sum, [, bytes]) => sum + bytes, 0);
const kB = (bytes) => (bytes / 1000).toFixed(0);
console.log(
  `first load: ${kB(total)} kB compressed, ${rows.length} files (limit ${LIMIT / 1000} kB); ${kB(later)} kB more as pages are opened`,
);
if (rows.length < 3 || LIMIT < total) {
  for (const [name, bytes] of rows) console.log(`  ${String(bytes).padStart(8)}  ${name}`);
  console.log(
    rows.length < 3
      ? "dist/ holds no build: run `npm run build`"
      : "too heavy: leave something out of the first load",
  );
  process.exit(1);
}
