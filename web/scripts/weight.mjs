// How heavy the first load is, as it travels: the page, its scripts and styles packed with gzip,
// and every typeface it may ask for. Fails above the limit.
import { readdirSync, readFileSync } from "node:fs";
import { join } from "node:path";
import { fileURLToPath } from "node:url";
import { gzipSync } from "node:zlib";

const LIMIT = 400_000;
const dist = fileURLToPath(new URL("../dist", import.meta.url));
const rows = readdirSync(dist, { recursive: true, encoding: "utf8" })
  .filter((name) => /\.(html|js|css|svg|woff2)$/.test(name))
  .map((name) => {
    const bytes = readFileSync(join(dist, name));
    return [name, name.endsWith(".woff2") ? bytes.length : gzipSync(bytes, { level: 9 }).length];
  });
const total = rows.reduce((sum, [, size]) => sum + size, 0);
console.log(
  `first load: ${(total / 1000).toFixed(0)} kB compressed, ${rows.length} files (limit ${LIMIT / 1000} kB)`,
);
if (rows.length < 3 || LIMIT < total) {
  for (const [name, size] of rows) console.log(`  ${String(size).padStart(8)}  ${name}`);
  console.log(
    rows.length < 3
      ? "dist/ holds no build: run `npm run build`"
      : "too heavy: leave something out of the first load",
  );
  process.exit(1);
}
