import assert from "node:assert/strict";
import { after, before, test } from "node:test";
import { launch, open, ownBook, overflow, PHONE, picture, violations } from "./browser.mjs";

let browser;
let own;
before(async () => {
  browser = await launch();
  own = await ownBook();
});
after(async () => {
  await browser.close();
  own.close();
});

const drawing = async () => (await fetch(`${own.base}/api/draw`)).json();
const at = (path, more = {}) => open(browser, path, { base: own.base, ...more });
const tool = (page, name) => page.getByRole("radio", { name, exact: true }).check();
/** Waits until the save is told. */
const told = (page, words) => page.getByRole("status").getByText(words).waitFor();

test("a zone is drawn by mouse with its acreage live, kept, taken back and made again", async () => {
  const before = await drawing();
  const { page, troubles, close } = await at("/draw", { size: { width: 1280, height: 800 } });
  await page.getByText("of water in").waitFor();
  await picture(page, "draw-desk");
  await tool(page, "Zone");
  const box = await page.locator("[role=application]").boundingBox();
  const corner = async (x, y) => {
    await page.mouse.click(box.x + box.width * x, box.y + box.height * y);
    await page.waitForTimeout(350);
  };
  await corner(0.42, 0.55);
  await corner(0.6, 0.55);
  await corner(0.6, 0.68);
  await page.mouse.dblclick(box.x + box.width * 0.42, box.y + box.height * 0.68);
  await page.locator(".acres strong").waitFor();
  assert.match(await page.textContent(".acres"), /[\d.]+.ac/);
  await page.getByLabel("Code").fill("Q1");
  await page.getByLabel("Name").fill("Deep water");
  await page.getByLabel("Rule").fill("no wake");
  await page.getByLabel("Used since, year").fill("2026");
  await page.getByLabel("conservation area").check();
  await page.getByRole("button", { name: "Keep it", exact: true }).click();
  await told(page, /drew zone Q1/i);
  const drawn = (await drawing()).areas.find((one) => one.code === "Q1");
  assert.deepEqual(
    [drawn.name, drawn.rule, drawn.since, drawn.protection],
    ["Deep water", "no wake", 2026, "conservation"],
  );
  await picture(page, "draw-zone");
  await page.getByRole("button", { name: "Undo" }).click();
  await told(page, /taken back: drew zone Q1/i);
  assert.equal((await drawing()).areas.length, before.areas.length);
  await page.getByRole("button", { name: "Redo" }).click();
  await told(page, /drew zone Q1/i);
  assert.ok((await drawing()).areas.some((one) => one.code === "Q1"));
  assert.deepEqual(troubles, []);
  await close();
});

test("by keyboard alone an overlapping zone is drawn, flagged in words, and deleted", async () => {
  const { page, close } = await at("/draw");
  await page.getByText("of water in").waitFor();
  await page.getByRole("radio", { name: "Choose", exact: true }).focus();
  // the radio of a zone is four steps on
  for (let step = 0; step < 4; step++) await page.keyboard.press("ArrowRight");
  assert.ok(await page.getByRole("radio", { name: "Zone", exact: true }).isChecked());
  const [area] = (await drawing()).areas;
  const ring = area.geometry.coordinates[0][0].slice(0, -1);
  await page.getByText("Corners as numbers").focus();
  await page.keyboard.press("Enter");
  await page.getByLabel(/Latitude, longitude/).focus();
  await page.keyboard.insertText(ring.map((corner) => corner.join(", ")).join("\n"));
  await page.getByText(/lie on each other over/).first().waitFor();
  await page.getByLabel("Code").focus();
  await page.keyboard.type("K9");
  await page.getByRole("button", { name: "Keep it", exact: true }).focus();
  await page.keyboard.press("Enter");
  await told(page, /drew zone K9/i);
  assert.ok((await page.textContent("aside")).includes("lie on each other over"));
  await page.keyboard.press("Control+z");
  await told(page, /taken back/i);
  assert.ok(!(await drawing()).areas.some((one) => one.code === "K9"));
  await close();
});

test("the drawing page holds to WCAG 2.2 AA and fits a phone", async () => {
  for (const path of ["/draw", "/draw?step=scan"]) {
    const { page, close } = await at(path, { size: PHONE });
    await page.waitForTimeout(500);
    assert.deepEqual(await violations(page), []);
    assert.equal(await overflow(page), "");
    await picture(page, `draw-phone${path.includes("scan") ? "-scan" : ""}`);
    await close();
  }
});
