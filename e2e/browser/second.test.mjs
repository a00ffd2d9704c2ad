// The same sheets typed by a second person, blind to the first, and what differs settled box by box.
import assert from "node:assert/strict";
import { execFileSync } from "node:child_process";
import { after, before, test } from "node:test";
import { CLEAN, DESK, launch, open, overflow, ownBook, PHONE, picture, settled, violationsInThemes } from "./browser.mjs";

const SURVEY = "twice";
let browser;
let own;
const path = (words = {}) => `/record?${new URLSearchParams({ survey: SURVEY, view: "second", ...words })}`;
const api = async (what, method = "GET", body = undefined) => {
  const response = await fetch(`${own.base}/api/surveys/${SURVEY}/${what}`, {
    method,
    headers: { "content-type": "application/json" },
    ...(body && { body: JSON.stringify(body) }),
  });
  assert.ok(response.ok, `${what} answered ${response.status}`);
  return response.status === 204 ? null : response.json();
};

before(async () => {
  browser = await launch();
  own = await ownBook();
  const laid = ["plan", own.book, "--survey", SURVEY, "--layout", "balanced", "--sites", "20"];
  execFileSync(own.program, [...laid, "--scale", "handful", "--throws", "2", "--max-depth", "15ft"]);
});
after(async () => {
  await browser.close();
  own?.close();
});

const thrown = (number, finds) => ({
  number,
  total: null,
  observations: finds.map(([taxon, rating]) => ({ taxon, rating, seen: "rake" })),
});

test("another person types blind, and each box that differs is settled by a choice with a name", async () => {
  const { sites, species } = await api("entry");
  const [a, b] = species.map((taxon) => taxon.code);
  assert.equal(sites[0].code, "1");
  const [one, two, three] = sites.map((site) => site.code);
  const first = (site, visit) => api(`visits/${site}`, "PUT", { by: "Ann", base_version: null, visit });
  await first(one, { depth_m: 6.5 * 0.3048, sediment: "muck", throws: [thrown(1, [[a, "M"]]), thrown(2, [])] });
  await first(two, { depth_m: 4 * 0.3048, sediment: "sand", throws: [thrown(1, [[b, "S"]]), thrown(2, [])] });
  await first(three, { depth_m: 5 * 0.3048, sediment: "sand", throws: [thrown(1, []), thrown(2, [])] });

  const { page, troubles, close } = await open(browser, path(), { base: own.base });
  const type = async (...keys) => {
    for (const key of keys.flatMap((key) => (key.length > 1 && /^[A-Z][a-z]/.test(key) ? [key] : [...key]))) {
      await page.keyboard.press(key === " " ? "Space" : key);
    }
  };
  await page.getByLabel("Who types this time?").focus();
  await page.keyboard.type("Ben");
  await page.keyboard.press("Enter");
  const box = page.locator("td.typing input");
  await box.waitFor();
  const grid = page.locator("table.grid");
  assert.ok(!(await grid.textContent()).includes("muck"), "what was typed first is not to be seen");
  await box.focus();
  const code = (taxon) => `${taxon.toLowerCase()} `;
  // the first site: depth and rating misread; the second: not reached; the third: the same
  await type("5.5", "Tab", "m", "Tab", code(a), "d", "Tab", "0", "Enter");
  await type("/", "P", "Enter");
  await type("5", "Tab", "s", "Tab", "0", "Tab", "0", "Enter");
  await page.waitForFunction(() => !Object.keys(localStorage).some((key) => key.startsWith("quillwort.unsent")));
  await picture(page, "record-second-desk");
  const typed = await api("second");
  assert.deepEqual([typed.entered, typed.same], [3, 1]);
  // the record itself is untouched
  const before = (await api("entry")).visits.find((visit) => visit.site === one);
  assert.deepEqual([before.changed_by, before.visit.depth_m], ["Ann", 6.5 * 0.3048]);

  await page.getByRole("link", { name: "See what differs" }).press("Enter");
  const list = page.getByRole("list", { name: "What differs" });
  await list.getByText(`Site ${two}`).first().waitFor();
  assert.equal(await list.getByRole("listitem").count(), 5, "depth, throw 1; depth, bottom, outcome");
  for (const [where, size] of [["desk", DESK], ["phone", PHONE]]) {
    await page.setViewportSize(size);
    await settled(page);
    const look = async (theme) => {
      await picture(page, `record-differ-${where}-${theme}`);
      assert.equal(await overflow(page), "", `${where} ${theme}`);
    };
    assert.deepEqual(await violationsInThemes(page, look), CLEAN, where);
  }
  await page.setViewportSize(DESK);
  // by keys alone: the depth as first typed, the rating as second, the site that was reached
  await list.getByRole("button", { name: /^the first is right ?: site 1, depth$/ }).focus();
  const kept = (text) => page.getByRole("status").filter({ hasText: text }).waitFor({ state: "attached" });
  await page.keyboard.press("1");
  await kept(`Site ${one}, depth: as typed first.`);
  await page.keyboard.press("2");
  await kept(`Site ${one}, throw 1: as typed second.`);
  for (const what of ["depth", "bottom"]) {
    await page.keyboard.press("1");
    await kept(`Site ${two}, ${what}: as typed first.`);
  }
  await page.keyboard.press("1");
  await page.getByText("Both read every one of them the same.").waitFor();

  const after = await api("second");
  assert.deepEqual([after.entered, after.same], [3, 3]);
  const visits = new Map((await api("entry")).visits.map((visit) => [visit.site, visit]));
  assert.equal(visits.get(one).visit.depth_m, 6.5 * 0.3048);
  assert.equal(visits.get(one).visit.throws[0].observations[0].rating, "D");
  assert.equal(visits.get(one).changed_by, "Ben");
  assert.equal(visits.get(two).visit.not_sampled, null);
  const log = await api("history");
  assert.ok(log.some((save) => save.by === "Ben" && save.note.includes("throw 1 as in the second entry")));
  assert.deepEqual(troubles, []);
  await close();
});
