import assert from "node:assert/strict";
import { after, before, test } from "node:test";
import {
  answer,
  BASE,
  CLEAN,
  DESK,
  launch,
  open,
  overflow,
  PHONE,
  picture,
  screens,
  settled,
  violationsInThemes,
} from "./browser.mjs";

const NARROW = { width: 320, height: 640 };
let browser;
before(async () => {
  browser = await launch();
});
after(() => browser.close());

/** Text twice its size, as a browser's own zoom of text makes it. */
const doubled = (page) => page.evaluate(() => document.documentElement.style.setProperty("font-size", "200%"));

test("no screen violates WCAG 2.2 AA by axe, in either theme, or is wider than the screen, on desk or phone", async () => {
  for (const [name, path] of await screens()) {
    for (const [where, size] of [["desk", DESK], ["phone", PHONE]]) {
      const { page, troubles, close } = await open(browser, path, { size });
      const look = (theme) => picture(page, `${name}-${where}-${theme}`);
      assert.deepEqual(await violationsInThemes(page, look), CLEAN, `${name} ${where}`);
      if (size === PHONE) {
        assert.equal(await overflow(page), "", `${name} at ${size.width}`);
        await page.setViewportSize(NARROW);
        await settled(page);
        assert.equal(await overflow(page), "", `${name} at ${NARROW.width}`);
      } else {
        await doubled(page);
        await settled(page);
        assert.equal(await overflow(page), "", `${name} with text at twice its size`);
        await picture(page, `${name}-desk-double`);
      }
      assert.deepEqual(troubles, [], `${name} ${where}`);
      await close();
    }
  }
});

test("on a phone the table stands above the map", async () => {
  const { page, close } = await open(browser, "/lake", { size: PHONE });
  const [table, map] = await Promise.all(
    ["#zone-table", "[role=application]"].map((name) => page.locator(name).boundingBox()),
  );
  assert.ok(table.y + table.height <= map.y);
  await close();
});

test("high contrast is a button, and stays after loading again", async () => {
  const { page, close } = await open(browser, "/lake");
  const button = page.getByRole("button", { name: "high contrast" });
  assert.equal(await button.getAttribute("aria-pressed"), "false");
  await button.click();
  assert.equal(await button.getAttribute("aria-pressed"), "true");
  const paper = await page.evaluate(() => getComputedStyle(document.documentElement).backgroundColor);
  assert.equal(paper, "rgb(255, 255, 255)");
  await close();
});

test("the whole page can be walked with the Tab key and the focus is always seen", async () => {
  const { page, close } = await open(browser, "/lake");
  const seen = [];
  for (let i = 0; i < 14; i++) {
    await page.keyboard.press("Tab");
    const at = await page.evaluate(() => {
      const element = document.activeElement;
      const style = getComputedStyle(element);
      return { tag: element.tagName, role: element.getAttribute("role"), outline: style.outlineStyle };
    });
    if (at.tag === "BODY") break;
    seen.push(at);
  }
  assert.ok(seen.some((at) => at.tag === "TR"), "a row of the table");
  assert.ok(seen.some((at) => at.role === "application"), "the map");
  const row = seen.findIndex((at) => at.tag === "TR");
  const map = seen.findIndex((at) => at.role === "application");
  assert.ok(row < map, "answer, table, map, margin");
  for (const at of seen) assert.notEqual(at.outline, "none", `${at.tag} ${at.role ?? ""}`);
  await close();
});

test("an address that is not there says so in words and offers the way on", async () => {
  const { surveys } = await answer("/api/book");
  if (surveys.length === 0) return;
  const response = await fetch(`${BASE}/api/surveys/No%20such%20survey/findings`);
  assert.equal(response.status, 404);
  const { message } = await response.json();
  assert.ok(message.includes("No such survey"), message);
});

test("every print and export of the library can be fetched", async (t) => {
  if (process.env.QUILLWORT_FIXTURE) return t.skip("the invented lake of web/fixtures prints nothing");
  const { page, close } = await open(browser, "/library");
  const links = await page.locator("td.links a").evaluateAll((all) => all.map((link) => link.href));
  assert.ok(links.length > 0);
  for (const link of links) {
    const response = await fetch(link);
    assert.equal(response.status, 200, link);
    const start = Buffer.from(await response.arrayBuffer()).subarray(0, 5).toString("latin1");
    if (link.includes("/print/")) assert.equal(start, "%PDF-", link);
  }
  await close();
});
