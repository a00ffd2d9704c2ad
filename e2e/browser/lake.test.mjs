import assert from "node:assert/strict";
import { after, before, test } from "node:test";
import { accent, answer, launch, open, picture, settled } from "./browser.mjs";

let browser;
before(async () => {
  browser = await launch();
});
after(() => browser.close());

test("the lake opens with its answer, a row for each zone and nothing in the console", async () => {
  const lake = await answer("/api/lake");
  const { page, troubles, close } = await open(browser, "/");
  assert.equal(await page.textContent("h1"), "How deep, and where?");
  assert.ok((await page.textContent(".answer")).startsWith(`${lake.name} covers `));
  assert.equal(await page.locator("#zone-table [data-row]").count(), lake.zones.length);
  assert.deepEqual(troubles, []);
  await picture(page, "lake-desk-light");
  await close();
});

test("arrow keys walk the zones and the place lights up on the map", async (t) => {
  const lake = await answer("/api/lake");
  if (lake.zones.length < 2) return t.skip("the lake has fewer than two zones");
  const { page, close } = await open(browser, "/lake");
  const first = await accent(page);
  assert.ok(first.n > 50, `the first zone is outlined in the accent colour: ${first.n} pixels`);
  await page.locator(`[data-row="${lake.zones[0].code}"]`).focus();
  await page.keyboard.press("ArrowDown");
  await settled(page);
  const chosen = page.locator("#zone-table [aria-selected=true]");
  assert.equal(await chosen.getAttribute("data-row"), lake.zones[1].code);
  assert.ok(await chosen.evaluate((row) => row === document.activeElement));
  assert.equal(new URL(page.url()).searchParams.get("zone"), lake.zones[1].code);
  const second = await accent(page);
  assert.ok(second.n > 50);
  assert.ok(Math.hypot(second.x - first.x, second.y - first.y) > 8, "the light moved");
  await page.keyboard.press("End");
  assert.equal(await chosen.getAttribute("data-row"), lake.zones.at(-1).code);
  await close();
});

test("Enter goes from the row to the map and Escape comes back", async (t) => {
  const lake = await answer("/api/lake");
  if (lake.zones.length === 0) return t.skip("the lake has no zones");
  const { page, close } = await open(browser, "/lake");
  await page.locator("#zone-table [aria-selected=true]").focus();
  await page.keyboard.press("Enter");
  assert.equal(await page.evaluate(() => document.activeElement.getAttribute("role")), "application");
  await page.keyboard.press("Escape");
  const back = await page.evaluate(() => document.activeElement.getAttribute("aria-selected"));
  assert.equal(back, "true");
  await close();
});

test("picking places on the map marks their rows", async (t) => {
  const lake = await answer("/api/lake");
  if (lake.zones.length < 2) return t.skip("the lake has fewer than two zones");
  const { page, close } = await open(browser, "/lake");
  const box = await page.locator("[role=application]").boundingBox();
  const marked = new Set();
  for (let row = 1; row < 6; row++) {
    for (let column = 1; column < 8; column++) {
      await page.mouse.click(box.x + (box.width * column) / 8, box.y + (box.height * row) / 6);
      // two clicks in quick succession would be a double click, which goes closer
      await page.waitForTimeout(320);
      marked.add(await page.getAttribute("#zone-table [aria-selected=true]", "data-row"));
    }
  }
  assert.ok(marked.size >= Math.min(4, lake.zones.length), `marked ${[...marked].join(", ")}`);
  for (const code of marked) assert.ok(lake.zones.some((zone) => zone.code === code));
  await close();
});

test("the map is named by the answer and described by the table", async () => {
  const { page, close } = await open(browser, "/lake");
  const map = page.locator("[role=application]");
  assert.equal(await map.getAttribute("aria-label"), (await page.textContent(".answer")).trim());
  const described = await map.getAttribute("aria-describedby");
  assert.equal(await page.locator(`#${described}`).count(), 1);
  await close();
});

test("the buttons bring the lake closer and back", async () => {
  const { page, close } = await open(browser, "/lake");
  const bars = () => page.locator(".frame > svg .bar").count();
  const before = await bars();
  await page.getByRole("button", { name: "closer" }).click();
  await page.getByRole("button", { name: "closer" }).click();
  await settled(page);
  await picture(page, "lake-desk-close");
  await page.getByRole("button", { name: "whole lake" }).click();
  await page.waitForTimeout(300);
  assert.equal(await bars(), before, "the framed edge is as it was");
  await close();
});
