import assert from "node:assert/strict";
import { after, before, test } from "node:test";
import { accent, answer, launch, open, ownBook, picture } from "./browser.mjs";

let browser;
before(async () => {
  browser = await launch();
});
after(() => browser.close());

const busy = (page) => page.waitForSelector("[aria-busy]", { state: "detached" });
const field = (page, name) => page.getByLabel(name, { exact: true });

test("how many: the answer, the curve and the margin say the same number", async () => {
  const effort = await answer("/api/effort?purpose=detect&runs=0");
  const { page, troubles, close } = await open(browser, "/plan");
  assert.equal(await page.textContent("h1"), "How many throws are enough?");
  const line = await page.textContent(".answer");
  assert.ok(line.startsWith(`${effort.formula.sites} sites`), line);
  assert.ok((await page.textContent(".curve svg")).includes(`${effort.formula.sites} sites`));
  assert.ok((await page.textContent(".note-a")).includes(effort.formula.source));
  assert.deepEqual(troubles, []);
  await picture(page, "plan-number-desk-light");
  await close();
});

test("how many: a purpose is chosen with the arrow keys, a word is changed, and the answer follows", async () => {
  const { page, troubles, close } = await open(browser, "/plan");
  await page.getByRole("radio", { checked: true }).focus();
  await page.keyboard.press("ArrowDown");
  await page.waitForFunction(() => new URL(location.href).searchParams.get("purpose") === "estimate");
  await busy(page);
  const usual = await answer("/api/effort?purpose=estimate&runs=0");
  assert.ok((await page.textContent(".answer")).startsWith(`${usual.formula.sites} sites`));
  await field(page, "How near the share must be").selectOption("0.05");
  await busy(page);
  const nearer = await answer("/api/effort?purpose=estimate&margin=0.05&runs=0");
  assert.ok(nearer.formula.sites > usual.formula.sites);
  assert.ok((await page.textContent(".answer")).startsWith(`${nearer.formula.sites} sites`));
  assert.deepEqual(troubles, []);
  await close();
});

test("how many: every purpose answers", async () => {
  for (const purpose of ["richness", "detect", "estimate", "change", "treatment", "delineate"]) {
    const { page, troubles, close } = await open(browser, `/plan?purpose=${purpose}`);
    const { formula } = await answer(`/api/effort?purpose=${purpose}&runs=0`);
    assert.ok((await page.textContent(".answer")).startsWith(`${formula.sites} `), purpose);
    assert.equal(await page.locator(".curve svg").count(), 1, purpose);
    assert.deepEqual(troubles, [], purpose);
    await close();
  }
});

test("how many: ways to lay the sites out stand side by side, and the map shows the chosen one", async () => {
  const { page, close } = await open(browser, "/plan?n=60");
  const rows = page.locator("#design-table [data-row]");
  assert.ok((await rows.count()) >= 5);
  const first = await page.textContent("#design-title");
  await page.locator("#design-table [aria-selected=true]").focus();
  await page.keyboard.press("ArrowDown");
  await page.waitForFunction((before) => document.querySelector("#design-title").textContent !== before, first);
  await page.keyboard.press("Enter");
  const at = await page.evaluate(() => document.activeElement.getAttribute("role"));
  assert.equal(at, "application");
  await close();
});

test("where: a layout is tried on the map, counted by zone and depth, and nothing is written", async () => {
  const before = await answer("/api/book");
  const { page, troubles, close } = await open(browser, "/plan?step=sites&n=50");
  await busy(page);
  assert.equal(await page.textContent("h1"), "Where do they go?");
  const first = await page.textContent(".answer");
  assert.match(first, /^\d+ sites, about /);
  assert.ok((await accent(page)).n > 200);
  const sum = (name) =>
    page.evaluate((label) => {
      const table = [...document.querySelectorAll("table")].find((one) =>
        one.querySelector("caption")?.textContent.startsWith(label),
      );
      return [...table.querySelectorAll("td.number")].reduce((n, cell) => n + Number(cell.textContent), 0);
    }, name);
  const count = Number(/^\d+/.exec(first)[0]);
  assert.equal(await sum("By depth"), count);
  await page.getByRole("radio", { name: "Squares" }).check();
  await busy(page);
  await page.waitForFunction((text) => document.querySelector(".answer").textContent !== text, first);
  assert.deepEqual((await answer("/api/book")).last_write, before.last_write);
  assert.deepEqual(troubles, []);
  await picture(page, "plan-sites-desk-light");
  await close();
});

test("where: what cannot be is said in words at the place, and the page goes on", async () => {
  const { page, close } = await open(browser, "/plan?step=sites");
  await busy(page);
  await field(page, "Shallowest water, ft").fill("20");
  await page.keyboard.press("Tab");
  await page.waitForSelector("[role=alert]");
  assert.match(await page.textContent("[role=alert]"), /depth limits[^]*Give the shallow limit first/);
  assert.ok(await page.getByRole("button", { name: "Keep" }).isDisabled());
  await field(page, "Shallowest water, ft").fill("1");
  await page.keyboard.press("Tab");
  await page.waitForSelector("[role=alert]", { state: "detached" });
  await close();
});

test("the day: route, times and light stand on the page; another boat is back earlier", async () => {
  const { page, troubles, close } = await open(browser, "/plan?step=day");
  await busy(page);
  assert.equal(await page.textContent("h1"), "Does the day fit?");
  const back = (text) => text.match(/\d\d:\d\d/g);
  const one = back(await page.textContent("#day-table tbody"));
  assert.equal(one.length, 1);
  await field(page, "Boats").selectOption("2");
  await page.waitForFunction(() => document.querySelectorAll("#day-table tbody tr").length === 2);
  const two = back(await page.textContent("#day-table tbody"));
  assert.ok(two.every((time) => time < one[0]), `${two} and ${one}`);
  await busy(page);
  await picture(page, "plan-day-two-boats");
  await field(page, "Boats").selectOption("1");
  await field(page, "Back by").selectOption("12:00");
  await page.getByText(/sites? over: /).waitFor();
  assert.deepEqual(troubles, []);
  await close();
});

test("a survey is planned with the keyboard alone, from the question to the day", async () => {
  const book = await ownBook();
  try {
    const { page, troubles, close } = await open(browser, "/plan?purpose=estimate", { base: book.base });
    const press = async (link) => {
      await link.focus();
      await page.keyboard.press("Enter");
    };
    await press(page.getByRole("link", { name: "Next: where do they go?" }));
    await page.waitForFunction(() => document.querySelector("h1").textContent === "Where do they go?");
    await page.waitForSelector(".answer");
    await busy(page);
    await field(page, "Name of the survey").focus();
    await page.keyboard.press("Control+A");
    await page.keyboard.type("2030-keyboard");
    await page.keyboard.press("Tab");
    await press(page.getByRole("button", { name: "Keep" }));
    await page.waitForSelector("#site-table");
    await busy(page);
    const saved = await (await fetch(`${book.base}/api/surveys/2030-keyboard/sites`)).json();
    assert.ok(saved.sites.length > 50);
    assert.ok((await page.textContent(".answer")).startsWith(`2030-keyboard has ${saved.sites.length} sites`));
    assert.match(await page.textContent("header"), /Kept \d\d:\d\d/);
    await press(page.getByRole("link", { name: "Next: does the day fit?" }));
    await page.waitForSelector("#day-table");
    await busy(page);
    assert.match(await page.textContent("#day-table tbody"), /\d\d:\d\d/);
    assert.deepEqual(troubles, []);
    await close();
  } finally {
    book.close();
  }
});
