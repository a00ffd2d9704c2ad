// The record from wet paper to a sealed survey, by keyboard alone, on a book of its own.
import assert from "node:assert/strict";
import { execFileSync } from "node:child_process";
import { closeSync, openSync, readFileSync, writeSync } from "node:fs";
import { after, before, test } from "node:test";
import { CLEAN, DESK, launch, open, overflow, ownBook, PHONE, picture, settled, violations, violationsInThemes } from "./browser.mjs";

const SURVEY = "wet paper";
const SITES = 300;
let browser;
let own;
const path = (words = {}) => `/record?${new URLSearchParams({ survey: SURVEY, ...words })}`;
const api = async (what) => {
  const response = await fetch(`${own.base}/api/surveys/${encodeURIComponent(SURVEY)}/${what}`);
  assert.equal(response.status, 200, what);
  return response.json();
};

/** Numbers that are the same in every run (Park and Miller 1988, Communications of the ACM 31:1192–1201). */
function seeded(seed) {
  let state = seed;
  return () => {
    state = (state * 16807) % 2147483647;
    return state / 2147483647;
  };
}

before(async () => {
  browser = await launch();
  own = await ownBook();
  const laid = ["plan", own.book, "--survey", SURVEY, "--layout", "balanced", "--sites", `${SITES}`];
  execFileSync(own.program, [...laid, "--scale", "handful", "--throws", "2", "--max-depth", "15ft"]);
});
after(async () => {
  await browser.close();
  own?.close();
});

/** Twenty wet sheets: what stands on the paper, row by row. */
function paper(sites, species) {
  const random = seeded(20260714);
  const pick = (list) => list[Math.floor(random() * list.length)];
  const plants = species.slice(0, 12).map((taxon) => taxon.code);
  const finds = () => {
    const codes = plants.filter(() => random() < 0.2);
    return codes.map((code) => ({ code, rating: pick(["T", "S", "M", "D"]) }));
  };
  return sites.map((site) => {
    if (random() < 0.04) return { site: site.code, outcome: "P", note: random() < 0.5 ? "lilies" : "" };
    const metres = Math.max(0.3, site.map_depth_m + (random() - 0.5) * 0.4);
    const depth = (Math.round((metres / 0.3048) * 2) / 2).toString();
    return { site: site.code, depth, bottom: pick(["muck", "sand", "rock"]), throws: [finds(), finds()] };
  });
}

/** The keys that bring one row of the paper into the book; the caret stands in its depth. */
function keysOf(row, species) {
  const keys = [];
  const write = (text) => keys.push(...text);
  if (row.outcome) {
    write("/");
    write(row.outcome);
    if (row.note) write(` ${row.note}`);
    return [...keys, "Enter"];
  }
  write(row.depth);
  keys.push("Tab", row.bottom[0], "Tab");
  for (const finds of row.throws) {
    if (finds.length === 0) write("0");
    for (const { code, rating } of finds) {
      // as few letters as name it alone, then a blank
      let letters = 1;
      const begins = (text) => species.filter((taxon) => taxon.code.startsWith(text)).length;
      while (letters < code.length && begins(code.slice(0, letters)) > 1) letters++;
      write(code.slice(0, letters).toLowerCase());
      write(" ");
      write(rating.toLowerCase());
    }
    if (finds !== row.throws.at(-1)) keys.push("Tab");
  }
  return [...keys, "Enter"];
}

const percentile = (values, share) =>
  values.toSorted((a, b) => a - b)[Math.min(values.length - 1, Math.floor(values.length * share))];

/** As from a keyboard: the next key does not wait for the page to have drawn the one before. */
async function press(page, keys) {
  const pressed = [...keys].flatMap((key) => {
    const name = key === " " ? "Space" : key;
    return [page.keyboard.down(name), page.keyboard.up(name)];
  });
  await Promise.all(pressed);
}

/** True while something is not in the book yet. */
const unsent = () => Object.keys(localStorage).some((key) => key.startsWith("quillwort.unsent"));
/** Waits until the book has everything. */
const kept = (page) =>
  page.waitForFunction(
    () => !Object.keys(localStorage).some((key) => key.startsWith("quillwort.unsent")),
    undefined,
    { timeout: 60_000 },
  );
/** From each key that completed a find or a box to the answer that the book has it, in ms since last asked. */
const waits = (page) =>
  page.evaluate(() => {
    const all = performance.getEntriesByName("quillwort.kept").map((entry) => entry.duration);
    performance.clearMeasures("quillwort.kept");
    return all;
  });

test("twenty wet sheets are typed in, checked, settled, sealed and verified; a tampered byte is caught", async (t) => {
  const before = await api("entry");
  assert.equal(before.sites.length, SITES);
  const rows = paper(before.sites, before.species);
  const { page, troubles, close } = await open(browser, path(), { base: own.base });

  let pressed = 0;
  const start = Date.now();
  const calm = rows.slice(-15);
  for (const row of rows.slice(0, -15)) {
    const keys = keysOf(row, before.species);
    pressed += keys.length;
    await press(page, keys);
  }
  const seconds = (Date.now() - start) / 1000;
  await kept(page);
  const hurried = await waits(page);
  // the last sheet at the pace of a hand, which is slower than the book: nothing queues
  for (const row of calm) {
    for (const key of keysOf(row, before.species)) {
      pressed++;
      await press(page, [key]);
      if (await page.evaluate(unsent)) await kept(page);
    }
  }
  const calmly = await waits(page);
  t.diagnostic(
    `${SITES} sites on ${Math.ceil(SITES / 15)} sheets: ${(pressed / SITES).toFixed(1)} keystrokes a site, ${pressed} in all; the machine typed ${SITES - 15} of them in ${seconds.toFixed(0)} s`,
  );
  for (const [pace, slow] of [["one key after another", calmly], ["as fast as the machine types", hurried]]) {
    t.diagnostic(
      `keystroke to saved with ${SITES} sites, ${pace}: ${slow.length} saves, median ${percentile(slow, 0.5).toFixed(0)} ms, 95 in 100 under ${percentile(slow, 0.95).toFixed(0)} ms`,
    );
  }
  assert.ok(pressed / SITES < 40, `${pressed / SITES} keystrokes a site`);

  // what stands in the book is what stood on the paper
  const written = new Map((await api("entry")).visits.map((visit) => [visit.site, visit.visit]));
  assert.equal(written.size, SITES);
  for (const row of rows) {
    const visit = written.get(row.site);
    if (row.outcome) {
      assert.equal(visit.not_sampled, "not-navigable-plants", row.site);
      assert.equal(visit.note, row.note, row.site);
      continue;
    }
    assert.ok(Math.abs(visit.depth_m - Number(row.depth) * 0.3048) < 1e-9, row.site);
    assert.equal(visit.sediment, row.bottom, row.site);
    const throws = visit.throws.map((one) => one.observations.map((o) => `${o.taxon} ${o.rating}`).sort());
    const wanted = row.throws.map((finds) => finds.map((find) => `${find.code} ${find.rating}`).sort());
    assert.deepEqual(throws, wanted, row.site);
  }

  await t.test("the head of the sheet is kept", async () => {
    const strip = page.getByRole("group", { name: "Head of the sheet" });
    const fill = async (name, text) => {
      await strip.getByLabel(name, { exact: true }).focus();
      await page.keyboard.type(text);
      await page.keyboard.press("Tab");
    };
    await fill("date", "14 July 2026");
    await fill("crew", "T. Kay rake, A. Marsh pencil*");
    await kept(page);
    const { header } = await api("entry");
    assert.equal(header.header.start, "2026-07-14");
    assert.deepEqual(header.header.crew.map((one) => one.name), ["T. Kay", "A. Marsh"]);
    assert.equal(header.header.crew[1].identified, true);
  });

  await t.test("a slipped point and a blank throw are told in the margin and mended from there", async () => {
    const sampled = rows.find((row) => row.depth && row.throws[1].length > 0);
    const sheet = Math.floor(rows.indexOf(sampled) / 15) + 1;
    await page.goto(own.base + path({ sheet: String(sheet) }));
    await page.waitForSelector("table.grid");
    const row = page.locator("table.grid tbody tr", { has: page.getByRole("rowheader", { name: sampled.site, exact: true }) });
    await row.locator("td.depth").click();
    await page.keyboard.press("Control+a");
    await press(page, "999");
    await page.keyboard.press("Enter");
    const missing = page.getByRole("region", { name: "What is still missing?" });
    await missing.getByText(`Site ${sampled.site}`).first().waitFor();
    await missing.getByText("deeper than the lake").waitFor();
    await picture(page, "record-desk-missing");
    const find = missing.locator("li", { hasText: "deeper than the lake" });
    await find.getByRole("button", { name: "Go there" }).click();
    await page.keyboard.press("Control+a");
    await press(page, sampled.depth);
    await page.keyboard.press("Enter");
    await missing.getByText("deeper than the lake").waitFor({ state: "detached" });
    await kept(page);
  });

  await t.test("a plant mistyped is offered, an old name understood, an unknown numbered; then taken back", async () => {
    const sampled = rows.find((row) => row.depth);
    await page.goto(own.base + path({ sheet: String(Math.floor(rows.indexOf(sampled) / 15) + 1) }));
    await page.waitForSelector("table.grid");
    const row = page.locator("table.grid tbody tr", { has: page.getByRole("rowheader", { name: sampled.site, exact: true }) });
    await row.locator("td.throw2").click();
    const box = page.locator("td.typing input");
    const first = await box.inputValue();
    await page.keyboard.press("Control+a");
    await press(page, "contail");
    await page.getByRole("option", { name: /coontail/ }).waitFor();
    await page.keyboard.press("Enter");
    assert.match(await box.inputValue(), /^CEDE $/);
    await press(page, "m?");
    await page.waitForFunction(() => /UN/.test(document.querySelector("td.typing input").value));
    await page.keyboard.press("Control+a");
    await page.keyboard.insertText(first);
    await page.keyboard.press("Enter");
    await kept(page);
    const visit = (await api("entry")).visits.find((one) => one.site === sampled.site).visit;
    assert.deepEqual(
      visit.throws[1].observations.map((one) => one.taxon).sort(),
      sampled.throws[1].map((find) => find.code).sort(),
    );
  });

  await t.test("no screen of the record violates WCAG 2.2 AA by axe, or is wider than the window", async () => {
    for (const view of ["", "plants", "close", "history", "file"]) {
      for (const [where, size] of [["desk", DESK], ["phone", PHONE]]) {
        const other = await open(browser, path(view ? { view } : { sheet: "2" }), { base: own.base, size });
        const name = `record-${view || "sheet"}-${where}`;
        const look = async (theme) => {
          await picture(other.page, `${name}-${theme}`);
          assert.equal(await overflow(other.page), "", `${name}-${theme}`);
        };
        assert.deepEqual(await violationsInThemes(other.page, look), CLEAN, name);
        assert.deepEqual(other.troubles, [], name);
        await other.close();
      }
    }
  });

  await t.test("the record is closed, and every seal holds", async () => {
    await page.goto(own.base + path({ view: "close" }));
    await page.getByLabel("Closed by").waitFor();
    await settled(page);
    const why = page.getByLabel(/^Why it is closed with/);
    await page.getByLabel("Closed by").fill("A. Marsh");
    if (await why.count()) await why.fill("read back against the paper");
    await page.getByLabel("Closed by").press("Enter");
    await page.getByText("SHA-256").waitFor({ timeout: 30_000 });
    await page.locator("button:enabled", { hasText: "Verify the book" }).press("Enter");
    await page.getByText("Yes.", { exact: true }).waitFor();
    await picture(page, "record-desk-sealed");
    assert.ok((await api("entry")).seal.sha256.length === 64);
  });

  await t.test("one byte changed in the file is caught", async () => {
    // the outcome of one visit, where it lies in the file
    const bytes = readFileSync(own.book);
    const at = bytes.lastIndexOf(Buffer.from("not-navigable-plants"));
    assert.ok(at > 0, "the word stands in the file");
    const handle = openSync(own.book, "r+");
    writeSync(handle, Buffer.from("N"), 0, 1, at);
    closeSync(handle);
    await page.locator("button:enabled", { hasText: "Verify the book" }).press("Enter");
    await page.getByText("No.", { exact: true }).waitFor({ timeout: 30_000 });
    await picture(page, "record-desk-tampered");
    assert.throws(() => execFileSync(own.program, ["verify", own.book], { stdio: "pipe" }), /./);
  });

  assert.deepEqual(troubles, []);
  await close();
});

test("a file is read column by column, a column is taken for something else, and only then it is stored", async () => {
  const name = "from a table";
  const begun = await fetch(`${own.base}/api/surveys`, {
    method: "POST",
    headers: { "content-type": "application/json" },
    body: JSON.stringify({ by: "A. Marsh", name, scale: "handful", throws_per_site: 1 }),
  });
  assert.equal(begun.status, 204);
  const words = new URLSearchParams({ survey: name, view: "file" });
  const { page, troubles, close } = await open(browser, `/record?${words}`, { base: own.base });
  const table = "site,when,how deep,species,rating\n1,2026-07-14,6.5,Chara,D\n2,2026-07-14,7,,0\n";
  await page.locator("input[type=file]").setInputFiles({
    name: "july.csv",
    mimeType: "text/csv",
    buffer: Buffer.from(table),
  });
  const deep = page.getByRole("listitem").filter({ hasText: "how deep" }).getByRole("combobox");
  await deep.waitFor();
  await deep.selectOption("depth");
  const rows = page.locator(".scroll tbody tr");
  await page.waitForFunction(() => document.querySelector(".scroll tbody td")?.textContent === "6.5");
  assert.match(await rows.nth(0).textContent(), /CHAR D/);
  assert.deepEqual(await violations(page), []);
  await picture(page, "record-desk-file");
  await page.getByRole("button", { name: "Store two visits" }).press("Enter");
  await page.getByRole("status").filter({ hasText: "Stored two visits" }).waitFor();
  const response = await fetch(`${own.base}/api/surveys/${encodeURIComponent(name)}/entry`);
  const { visits } = await response.json();
  assert.deepEqual(visits.map((one) => [one.site, one.outcome]), [
    ["1", "sampled-with-plants"],
    ["2", "sampled-without-plants"],
  ]);

  // next year's file with the same headers is read like it, in any browser, and can be told otherwise
  const later = "a year later";
  await fetch(`${own.base}/api/surveys`, {
    method: "POST",
    headers: { "content-type": "application/json" },
    body: JSON.stringify({ by: "A. Marsh", name: later, scale: "handful", throws_per_site: 1 }),
  });
  await page.evaluate(() => localStorage.clear());
  await page.goto(`${own.base}/record?${new URLSearchParams({ survey: later, view: "file" })}`);
  await page.locator("input[type=file]").setInputFiles({
    name: "next july.csv",
    mimeType: "text/csv",
    buffer: Buffer.from(table.replaceAll("2026", "2027").replace("6.5", "5.5")),
  });
  await page.getByText(/As in july\.csv, stored in from a table/).waitFor();
  assert.equal(await deep.inputValue(), "depth");
  await picture(page, "record-desk-file-remembered");
  await page.getByRole("button", { name: "Guess them anew" }).press("Enter");
  await page.getByRole("button", { name: "As in the file before" }).press("Enter");
  await page.getByText(/As in july\.csv/).waitFor();
  assert.equal(await deep.inputValue(), "depth");
  assert.deepEqual(troubles, []);
  await close();
});
