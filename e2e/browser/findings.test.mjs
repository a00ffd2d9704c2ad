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

const api = (name, what) => answer(`/api/surveys/${encodeURIComponent(name)}/${what}`);
const address = (name) => `/findings?${new URLSearchParams({ survey: name })}`;

test("every survey has a row for each kind and one for any plant", async () => {
  for (const { name } of surveys) {
    const findings = await api(name, "findings");
    const { page, troubles, close } = await open(browser, address(name));
    assert.equal(await page.textContent("h1"), "What lives here?");
    const rows = await page.locator("#species-table [data-row]").count();
    assert.equal(rows, findings.taxa.length + 1, name);
    assert.deepEqual(troubles, [], name);
    await close();
  }
});

test("arrow keys walk the species; the map's heading and the depth plot follow", async (t) => {
  const { name } = surveys[0];
  const { taxa } = await api(name, "findings");
  if (taxa.length < 2) return t.skip("fewer than two kinds");
  const { page, close } = await open(browser, address(name));
  await page.locator("#species-table [aria-selected=true]").focus();
  await page.keyboard.press("ArrowDown");
  const called = taxa[1].common_name || taxa[1].scientific_name;
  const heading = await page.textContent(".map h2");
  assert.ok(heading.toLowerCase().startsWith(called.toLowerCase()), heading);
  assert.ok((await page.textContent(".depth h2")).includes(called));
  assert.equal(new URL(page.url()).searchParams.get("taxon"), taxa[1].code);
  await picture(page, "findings-desk-second");
  await close();
});

test("shares follow the denominator", async (t) => {
  const { name } = surveys[0];
  const { taxa } = await api(name, "findings");
  if (taxa.length === 0) return t.skip("no kinds named");
  const { page, close } = await open(browser, address(name));
  const shown = () => page.locator("#species-table [data-row] .percent").first().textContent();
  const percent = (f) => String(Math.floor(f.p * 100 + 0.5));
  assert.equal(await shown(), percent(taxa[0].frequency.all));
  await page.getByRole("radio").nth(2).check();
  assert.equal(await shown(), percent(taxa[0].frequency.vegetated));
  await page.getByRole("radio").nth(1).check();
  assert.equal(await shown(), percent(taxa[0].frequency.littoral));
  await close();
});

test("every sentence in plain words has its footnote", async () => {
  const { page, close } = await open(browser, address(surveys[0].name));
  const keys = await page.locator(".plain sup.key").count();
  assert.ok(keys > 0);
  assert.equal(await page.locator(".foot li").count(), keys);
  await close();
});

test("what the map shows is also a list of every site", async () => {
  const { name } = surveys[0];
  const { sites } = await api(name, "sites");
  const { page, close } = await open(browser, address(name));
  await page.locator(".list summary").click();
  await page.waitForSelector(".list [data-row]");
  assert.equal(await page.locator(".list [data-row]").count(), sites.length);
  await page.locator(".list [data-row]").first().click();
  assert.ok((await page.textContent(".map .site")).includes(`Site ${sites[0].code}`));
  await close();
});

test("another survey is picked at the top right", async (t) => {
  if (surveys.length < 2) return t.skip("one survey");
  const { page, close } = await open(browser, address(surveys[0].name));
  await page.locator("header select").selectOption(surveys[1].name);
  await addressed(page, "survey", surveys[1].name);
  const findings = await api(surveys[1].name, "findings");
  const rows = await page.locator("#species-table [data-row]").count();
  assert.equal(rows, findings.taxa.length + 1);
  await close();
});
