import assert from "node:assert/strict";
import { after, before, test } from "node:test";
import { addressed, answer, launch, open, picture } from "./browser.mjs";

let browser;
let surveys;
before(async () => {
  browser = await launch();
  ({ surveys } = await answer("/api/book"));
});
after(() => browser.close());

const pair = () => new URLSearchParams({ from: surveys[1].name, to: surveys[0].name });

test("what differs between the surveys stands before any verdict", async (t) => {
  if (surveys.length < 2) return t.skip("one survey");
  const compare = await answer(`/api/compare?${pair()}`);
  const { page, troubles, close } = await open(browser, `/compare?${pair()}`);
  const order = await page.evaluate(() => {
    const places = [".first", ".verdict", "table"].map((name) => document.querySelector(name));
    const follows = (a, b) => !a || !b || Boolean(a.compareDocumentPosition(b) & 4);
    return follows(places[0], places[1]) && follows(places[0], places[2]);
  });
  assert.ok(order);
  assert.equal(await page.locator(".first li").count(), compare.warnings.length);
  assert.equal(await page.locator(".verdict p").count(), compare.sentences.length);
  assert.deepEqual(troubles, []);
  await picture(page, "compare-desk-light");
  await close();
});

test("each row says points, the smallest change it can see, and a word", async (t) => {
  if (surveys.length < 2) return t.skip("one survey");
  const compare = await answer(`/api/compare?${pair()}`);
  const { page, close } = await open(browser, `/compare?${pair()}`);
  const rows = page.locator("tbody [data-row]");
  assert.equal(await rows.count(), compare.taxa.length + 1);
  for (const change of [...compare.taxa, compare.any]) {
    const row = page.locator(`[data-row="${change.code}"]`);
    assert.equal(await row.locator(".says").textContent(), change.verdict);
    if (change.difference) {
      const points = await row.locator(".points").textContent();
      assert.match(points, /^([+\u2212]\d+|0)$/);
    }
  }
  await close();
});

test("the two surveys are picked at the top right", async (t) => {
  if (surveys.length < 3) return t.skip("fewer than three surveys");
  const { page, close } = await open(browser, `/compare?${pair()}`);
  await page.locator("header select").first().selectOption(surveys[2].name);
  await addressed(page, "from", surveys[2].name);
  assert.equal(await page.locator("[role=alert]").count(), 0);
  await close();
});
