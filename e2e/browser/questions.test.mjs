import assert from "node:assert/strict";
import { after, before, test } from "node:test";
import { addressed, answer, launch, open, ownBook, PHONE, picture, settled } from "./browser.mjs";

let browser;
let surveys;
before(async () => {
  browser = await launch();
  ({ surveys } = await answer("/api/book"));
});
after(() => browser.close());

const MINUS = "\u2212";
const round = (value) => Math.sign(value) * Math.floor(Math.abs(value) + 0.5 + 1e-12);
const points = (share) => {
  const value = round(share * 100);
  return value > 0 ? `+${value}` : value < 0 ? `${MINUS}${-value}` : "0";
};
const pair = () => new URLSearchParams({ from: surveys[1].name, to: surveys[0].name });
/** The words at a place, once it is there: pages and lists come when they are asked for. */
const text = async (page, selector) => {
  const all = page.locator(selector);
  await all.first().waitFor({ state: "attached" });
  return (await all.allTextContents()).map((words) => words.trim());
};
/** One treatment, or all of the latest month together: what the page asks first. */
async function asked() {
  const treatments = await answer("/api/treatments");
  const latest = treatments.map((one) => one.start.slice(0, 7)).sort().at(-1);
  return treatments
    .filter((one) => one.start.startsWith(latest))
    .sort((a, b) => b.start.localeCompare(a.start))
    .map((one) => one.code)
    .join(",");
}

test("the five questions stand on every page of Findings, the one in hand is the title", async () => {
  const questions = ["What lives here?", "What changed?", "Did it work?", "Which way is it going?", "Where did it move?"];
  const { page, troubles, close } = await open(browser, "/findings");
  for (const question of [...questions, "How is it computed?"]) {
    if (question !== questions[0]) {
      await page.getByRole("navigation", { name: "Questions" }).getByRole("link", { name: question }).click();
    }
    await page.waitForFunction((words) => document.querySelector("h1")?.textContent === words, question);
    // the page itself is fetched when it is opened
    await page.waitForSelector("[aria-busy]", { state: "detached" });
    const links = page.getByRole("navigation", { name: "Questions" }).getByRole("link");
    await links.nth(4).waitFor();
    assert.equal(await links.count(), 5, question);
  }
  assert.deepEqual(troubles, []);
  await close();
});

test("the summary says each sentence of the book once, with its figures", async () => {
  const { name } = surveys[0];
  const { summary } = await answer(`/api/surveys/${encodeURIComponent(name)}/findings`);
  const { page, close } = await open(browser, `/findings?${new URLSearchParams({ survey: name })}`);
  const said = (await text(page, ".plain li")).map((words) => words.replace(/\d+$/, ""));
  assert.deepEqual(
    [...said].sort(),
    summary.map(({ sentence }) => (/[.!?]$/.test(sentence) ? sentence : `${sentence}.`)).sort(),
  );
  const topics = await page.locator(".plain [data-topic]").evaluateAll((all) => all.map((one) => one.dataset.topic));
  assert.deepEqual(new Set(topics), new Set(summary.map(({ topic }) => topic)));
  await picture(page, "findings-plain-words");
  await close();
});

test("estimates of richness, acres and detection are those of the book", async (t) => {
  const { name } = surveys[0];
  const findings = await answer(`/api/surveys/${encodeURIComponent(name)}/findings`);
  const taxon = findings.taxa[0];
  if (!taxon) return t.skip("no kinds named");
  const { page, close } = await open(browser, `/findings?${new URLSearchParams({ survey: name, taxon: taxon.code })}`);
  const chao = findings.richness.chao2;
  if (chao) {
    const row = await text(page, "[data-estimate=chao2] .number");
    assert.equal(row[0], chao.value.toFixed(1));
    assert.equal(row[1], `${chao.low.toFixed(1)}\u2013${chao.high.toFixed(1)}`);
  }
  const zones = findings.acres.filter((row) => row.code === taxon.code && row.zone !== null);
  assert.ok(zones.length > 0);
  for (const row of zones) {
    const cells = await text(page, `[data-zone="${row.zone}"] .number`);
    assert.equal(cells[0], `${row.found} of ${row.looked_at}`);
    if (row.area_m2 === null) continue;
    const acres = row.area_m2 / 4046.8564224;
    assert.ok(Math.abs(Number(cells[1]) - acres) <= (acres < 10 ? 0.0501 : 0.501), `${row.zone}: ${cells[1]} for ${acres}`);
  }
  for (const row of findings.detection.filter(({ missed_chance }) => missed_chance !== null)) {
    const missed = await page.locator(`[aria-label="Detection by species"] [data-row="${row.code}"] .missed strong`).textContent();
    assert.equal(missed, String(round(row.missed_chance * 100)), row.code);
  }
  for (const group of findings.by_zone.filter(({ sampled }) => sampled > 0)) {
    const found = group.taxa.find(({ code }) => code === taxon.code)?.frequency.k ?? 0;
    const shown = await page.locator(`table:has(caption:text("by zone")) [data-part="${group.key}"] .sites`).first().textContent();
    assert.equal(shown.trim(), `${found} of ${group.sampled}`, group.key);
  }
  await close();
});

test("the map of chances is asked for when it comes into view, and says how unsure it is", async () => {
  const { name } = surveys[0];
  const { page, troubles, close } = await open(browser, `/findings?${new URLSearchParams({ survey: name })}`);
  const asks = [];
  page.on("request", (request) => request.url().includes("/extent?") && asks.push(request.url()));
  assert.equal(await page.locator(".extent canvas").count(), 0);
  await page.locator(".extent").scrollIntoViewIfNeeded();
  await page.waitForSelector(".extent canvas", { timeout: 60_000 });
  assert.equal(asks.length, 1);
  assert.equal(await page.locator(".extent canvas").count(), 2);
  const labels = await page.locator(".extent [role=img]").evaluateAll((all) => all.map((one) => one.getAttribute("aria-label")));
  assert.match(labels[1], /standard error of the chance, \d+ to \d+ points/);
  assert.deepEqual(troubles, []);
  await picture(page, "findings-extent");
  await close();
});

test("gains and losses on the map add up to those of the table", async (t) => {
  if (surveys.length < 2) return t.skip("one survey");
  const compare = await answer(`/api/compare?${pair()}`);
  if (compare.design !== "paired") return t.skip("different sites");
  const change = compare.taxa.find(({ gained, lost }) => gained > 0 && lost > 0);
  const { page, troubles, close } = await open(browser, `/compare?${pair()}&taxon=${change.code}`);
  await page.getByText(/sites as a list/).click();
  await page.locator(`[aria-label^="Sites:"] tbody tr`).first().waitFor();
  const rows = await text(page, `[aria-label^="Sites:"] tbody td:last-child`);
  const count = (words) => rows.filter((row) => row === words).length;
  assert.equal(count("found later only"), change.gained);
  assert.equal(count("found earlier only"), change.lost);
  assert.equal(count("found both times") + change.lost, change.from.k);
  assert.equal(rows.length, compare.pairs, "every pair is on the map");
  await page.locator(`[aria-label^="Sites:"] tbody tr`).first().click();
  assert.match(await page.locator(".evidence .site").first().textContent(), /^Site .+: found/);
  if (compare.community.r !== null) {
    const all = await page.textContent("main");
    const r = compare.community.r.toFixed(2).replace(/^-(0\.00)$/, "$1").replace("-", MINUS);
    assert.ok(all.includes(`R = ${r}`), r);
  }
  assert.deepEqual(troubles, []);
  await close();
});

test("did it work: what restricts the answer first, then the verdict, then the figures of the book", async (t) => {
  const treatment = await asked();
  if (!treatment) return t.skip("no treatment");
  const view = await answer(`/api/efficacy?${new URLSearchParams({ treatment })}`);
  const { page, troubles, close } = await open(browser, "/efficacy");
  const order = await page.evaluate(() => {
    const [first, verdict, table] = [".first", ".verdict", "#effect-table"].map((name) => document.querySelector(name));
    return Boolean(first.compareDocumentPosition(verdict) & 4) && Boolean(verdict.compareDocumentPosition(table) & 4);
  });
  assert.ok(order);
  assert.equal(await page.locator(".first li").count(), view.warnings.length);
  const lead = await page.locator(".verdict strong").first().textContent();
  assert.equal(lead.replace(/\.$/, "").toLowerCase(), view.verdict);
  for (const { code, effect } of [...view.target, ...view.natives]) {
    const row = page.locator(`#effect-table [data-row="${code}"]`);
    if (effect.difference) assert.equal(await row.locator(".points").textContent(), points(effect.difference.value), code);
    if (effect.detectable !== null) assert.equal(await row.locator(".sees").textContent(), String(round(effect.detectable * 100)), code);
    const hidden = await row.locator(".share .hidden").allTextContents();
    const { treated, untreated } = effect;
    assert.deepEqual(hidden, [treated, untreated].map(({ before: a, after: b }) => `${a.k} of ${a.n}, then ${b.k} of ${b.n}`), code);
  }
  assert.deepEqual(troubles, []);
  await picture(page, "efficacy-desk-light");
  await close();
});

test("the question of a treatment has changeable words: zones to hold beside it, other surveys", async (t) => {
  const treatment = await asked();
  if (!treatment) return t.skip("no treatment");
  const { zones } = await answer("/api/map");
  const { page, close } = await open(browser, "/efficacy");
  await page.locator(".choose summary").click();
  const box = page.getByRole("checkbox").last();
  await box.check();
  await page.waitForFunction(() => new URL(location.href).searchParams.get("control"));
  await settled(page);
  const control = new URL(page.url()).searchParams.get("control");
  assert.ok(zones.some(({ code }) => code === control), control);
  const view = await answer(`/api/efficacy?${new URLSearchParams({ treatment, control })}`);
  const head = await page.locator("#effect-table th").nth(2).textContent();
  assert.ok(head.includes(`% of ${view.together.untreated.after.n} sites`), head);
  await page.getByLabel("survey before").selectOption(surveys.at(-1).name);
  await addressed(page, "before", surveys.at(-1).name);
  await close();
});

test("which way: every survey of the book with its share, and the sentence of the plant in hand", async (t) => {
  const { taxa } = await answer("/api/trends");
  if (surveys.length < 2) return t.skip("one survey");
  const one = taxa.find(({ code }) => code !== "any");
  const { page, troubles, close } = await open(browser, `/trend?taxon=${one.code}`);
  assert.equal(await page.locator("#trend-table [data-row]").count(), taxa.length);
  for (const trend of taxa) {
    assert.equal(await page.locator(`#trend-table [data-row="${trend.code}"] .says`).textContent(), trend.verdict);
  }
  const counts = await text(page, ".counts tbody td:nth-child(2)");
  assert.deepEqual(counts, one.surveys.map(({ k, n }) => `${k} of ${n}`));
  assert.ok((await page.textContent(".one .verdict")).startsWith(one.sentence.replace(/\.$/, "")));
  const next = page.locator("#trend-table tr[tabindex='0']");
  await next.focus();
  await page.keyboard.press("ArrowDown");
  const chosen = new URL(page.url()).searchParams.get("taxon");
  assert.notEqual(chosen, one.code);
  assert.deepEqual(troubles, []);
  await picture(page, "trend-desk-light");
  await close();
});

test("where it moved: shift, gains and losses of the book; the years can be stepped through", async (t) => {
  if (surveys.length < 2) return t.skip("one survey");
  const { page, troubles, close } = await open(browser, `/spread?${pair()}`);
  const code = await page.locator("#spread-table tr[aria-selected=true]").getAttribute("data-row");
  const view = await answer(`/api/spread?taxon=${code}&${pair()}`);
  const row = page.locator(`#spread-table [data-row="${code}"] .count`);
  const shown = (await row.allTextContents()).map((words) => Number(words.trim()));
  assert.deepEqual(shown, [view.gained, view.lost, view.kept].map((sites) => sites.length));
  if (view.shift_m) {
    const feet = round(view.shift_m.value / 0.3048).toLocaleString("en-US");
    assert.ok((await page.textContent(".notes")).includes(`${feet}\u00a0ft`), feet);
  }
  assert.equal(await page.locator(".years .year").count(), view.years.length);
  await page.locator(".years .year").first().click();
  const [first] = view.years;
  await page.waitForFunction(
    ([found, all]) => document.querySelector(".map .words")?.textContent.includes(`${found} of ${all} sites`),
    [first.found.length, first.found.length + first.blank.length],
  );
  await page.getByRole("button", { name: "show the change" }).click();
  assert.equal(await page.getByRole("button", { name: /play/ }).count(), 0, "no play button where less motion is asked for");
  assert.deepEqual(troubles, []);
  await picture(page, "spread-desk-light");
  await close();
});

test("the years play only where motion is not unwelcome, and stop", async (t) => {
  if (surveys.length < 2) return t.skip("one survey");
  const { page, close } = await open(browser, `/spread?${pair()}`, { motion: "no-preference" });
  await page.getByRole("button", { name: "play the years" }).click();
  await page.waitForSelector(".year[aria-pressed=true]");
  await page.waitForTimeout(1800);
  assert.equal(await page.locator(".years li:nth-child(2) .year").getAttribute("aria-pressed"), "true");
  await page.getByRole("button", { name: "stop" }).click();
  assert.equal(await page.getByRole("button", { name: "play the years" }).count(), 1);
  await close();
});

test("a figure leads to how it is computed", async () => {
  const { name } = surveys[0];
  const findings = await answer(`/api/surveys/${encodeURIComponent(name)}/findings`);
  const { page, close } = await open(browser, `/findings?${new URLSearchParams({ survey: name })}`);
  await page.locator(".note-a").getByRole("link", { name: "how it is computed" }).first().click();
  await page.waitForFunction(() => document.querySelector("h1")?.textContent === "How is it computed?");
  assert.equal(new URL(page.url()).hash, `#${findings.methods.frequency}`);
  await settled(page);
  const seen = await page.locator(`#${findings.methods.frequency}`).evaluate((heading) => {
    const { top } = heading.getBoundingClientRect();
    return top >= -5 && top < innerHeight && Boolean(heading.closest("section")?.classList.contains("chosen"));
  });
  assert.ok(seen, "the entry is in view and marked");
  // every anchor the program hands out is an entry of the page
  const views = [findings, (await answer("/api/trends")).taxa[0], surveys.length > 1 ? await answer(`/api/compare?${pair()}`) : null];
  for (const view of views.filter(Boolean)) {
    for (const [figure, anchor] of Object.entries(view.methods)) {
      assert.equal(await page.locator(`[id="${anchor}"]`).count(), 1, `${figure}: ${anchor}`);
    }
  }
  await close();
});

test("a book with nothing in it says on every page what is missing", async () => {
  const own = await ownBook();
  try {
    const { execFileSync } = await import("node:child_process");
    const { dirname, join } = await import("node:path");
    const { spawn } = await import("node:child_process");
    const empty = join(dirname(own.book), "empty.gpkg");
    execFileSync(own.program, ["new", empty, "--name", "Empty Lake"]);
    const server = spawn(own.program, ["serve", empty, "--listen", "127.0.0.1:0"], { stdio: ["ignore", "pipe", "ignore"] });
    try {
      const base = await new Promise((resolve) => {
        server.stdout.on("data", (words) => {
          const found = /http:\/\/\S+/.exec(String(words))?.[0];
          if (found) resolve(found.replace(/\/$/, ""));
        });
      });
      for (const place of ["findings", "compare", "efficacy", "trend", "spread"]) {
        const { page, troubles, close } = await open(browser, `/${place}`, { base, size: PHONE });
        assert.match(await page.textContent(".missing"), /holds no (survey|treatment) yet/, place);
        assert.deepEqual(troubles, [], place);
        await close();
      }
    } finally {
      server.kill();
    }
  } finally {
    own.close();
  }
});
