// The lake's list of plants, and two crews at the same sites, on a book of its own.
import assert from "node:assert/strict";
import { after, before, test } from "node:test";
import { launch, open, overflow, ownBook, PHONE, violations } from "./browser.mjs";

let browser;
let own;
const entry = async (survey) => (await fetch(`${own.base}/api/surveys/${survey}/entry`)).json();

before(async () => {
  browser = await launch();
  own = await ownBook();
});
after(async () => {
  await browser.close();
  own?.close();
});

test("a plant the catalogue does not know is described for the list; its origin is the state's to change", async () => {
  const begun = { by: "A. Marsh", name: "reeds", scale: "handful", throws_per_site: 1 };
  const headers = { "content-type": "application/json" };
  await fetch(`${own.base}/api/surveys`, { method: "POST", headers, body: JSON.stringify(begun) });
  const { page, troubles, close } = await open(browser, "/record?survey=reeds&view=plants", { base: own.base });
  await page.getByLabel(/^Find a plant/).fill("Zzyzx reed");
  await page.getByRole("button", { name: /^Describe/ }).press("Enter");
  const form = page.getByRole("form", { name: "A plant for the lake's list" });
  await form.getByLabel("common name").fill("zig reed");
  await form.getByLabel("grows").selectOption("emergent");
  await form.getByLabel("comes from").selectOption("introduced");
  await form.getByLabel("listed noxious").check();
  assert.deepEqual(await violations(page), []);
  await form.getByRole("button", { name: "Put it on the list" }).press("Enter");
  await form.waitFor({ state: "detached" });
  const added = (await entry("reeds")).species.find((one) => one.scientific_name === "Zzyzx reed");
  assert.deepEqual(
    [added.common_name, added.growth_form, added.origin, added.listed_noxious],
    ["zig reed", "emergent", "introduced", true],
  );
  const answered = page.waitForResponse((response) => response.url().endsWith("/api/taxa"));
  await page.getByLabel(`Where ${added.code} comes from`).selectOption("native");
  await answered;
  const changed = (await entry("reeds")).species.find((one) => one.code === added.code);
  assert.deepEqual([changed.origin, changed.growth_form, changed.listed_noxious], ["native", "emergent", true]);
  assert.deepEqual(troubles, []);
  await close();
});

test("two crews at the same sites: the kappa of the book with its weights, plant by plant", async () => {
  const { surveys } = await (await fetch(`${own.base}/api/book`)).json();
  const [from, to] = surveys.map((one) => one.name).filter((name) => name !== "reeds");
  const view = await (await fetch(`${own.base}/api/observers?${new URLSearchParams({ from, to })}`)).json();
  const address = `/record?${new URLSearchParams({ survey: from, view: "crews" })}`;
  const { page, troubles, close } = await open(browser, address, { base: own.base, size: PHONE });
  await page.getByLabel("The other crew's survey").selectOption(to);
  const rows = page.locator("table tbody tr");
  await rows.first().waitFor();
  assert.equal(await rows.count(), view.taxa.length);
  const cells = (await rows.first().locator("td").allTextContents()).map(Number);
  const [first] = view.taxa;
  assert.deepEqual(cells, [first.both, first.only_from, first.only_to, first.neither]);
  const kappas = await page.locator("dd").allTextContents();
  assert.match(kappas[1], new RegExp(`^${view.kappa_presence.toFixed(2)} unweighted`));
  assert.match(kappas[2], new RegExp(`^${view.kappa_rating.toFixed(2)} linear weights`));
  assert.deepEqual(await violations(page), []);
  assert.equal(await overflow(page), "");
  assert.deepEqual(troubles, []);
  await close();
});
