import assert from "node:assert/strict";
import { after, before, test } from "node:test";
import {
  accent,
  addressed,
  answer,
  CLEAN,
  launch,
  open,
  PHONE,
  picture,
  settled,
  violationsInThemes,
} from "./browser.mjs";

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

/** Pixels of the map within a little of a colour. */
const pixels = (page, colour) =>
  page.evaluate((wanted) => {
    let found = 0;
    for (const canvas of document.querySelectorAll("[role=application] canvas")) {
      const { data } = canvas.getContext("2d").getImageData(0, 0, canvas.width, canvas.height);
      for (let i = 0; i < data.length; i += 4)
        if (Math.abs(data[i] - wanted[0]) + Math.abs(data[i + 1] - wanted[1]) + Math.abs(data[i + 2] - wanted[2]) < 9) found++;
    }
    return found;
  }, colour);

test("another level of the water and another littoral zone are reckoned, said, and left again", async () => {
  const own = await answer("/api/lake");
  const { page, troubles, close } = await open(browser, "/lake");
  const answerLine = await page.textContent(".answer");
  assert.equal(await page.locator(".holds").count(), 0);
  await page.getByText("Another water level, rule or littoral zone").click();
  await page.getByLabel("Water level, feet").fill("2");
  await page.getByLabel("from the shore down to a depth").check();
  await page.getByLabel("Deep limit, feet").fill("12");
  await picture(page, "lake-choice-form");
  await page.getByRole("button", { name: "Work it out" }).click();
  await addressed(page, "level_m", "-0.6096");
  const said = await page.textContent(".holds");
  assert.match(said, /water 2.ft below .* and a littoral zone of 0 to 12.ft/);
  const low = await answer("/api/lake?level_m=-0.6096&min_depth_m=0&max_depth_m=3.6576");
  assert.ok(low.volume_m3 < own.volume_m3 && low.area_m2 < own.area_m2);
  const acres = (low.area_m2 / 4046.8564224).toFixed(1);
  assert.ok((await page.textContent(".measures")).includes(acres), `the area is ${acres} acres now`);
  assert.notEqual(await page.textContent(".answer"), answerLine);
  await picture(page, "lake-choice-low");
  await page.goBack();
  await addressed(page, "level_m", null);
  assert.equal(await page.textContent(".answer"), answerLine);
  await page.goForward();
  await addressed(page, "level_m", "-0.6096");
  await page.getByRole("button", { name: "Back to the book’s own" }).click();
  await addressed(page, "level_m", null);
  assert.equal(await page.locator(".holds").count(), 0);
  assert.deepEqual(troubles, []);
  await close();
});

test("a limit from Secchi depth names its source and its spread; a dry lake is refused in words", async () => {
  const { page, close } = await open(browser, "/lake?secchi_m=3.048&regression=caffrey-2007&rule=frustum");
  const said = await page.textContent(".holds");
  assert.match(said, /cone formula/);
  // ten feet of sight let plants grow to 13.98 ft by Caffrey, Hoyer and Canfield (2007)
  assert.match(said, /to 14.ft.*Secchi depth of 10.ft/);
  assert.match(said, /Caffrey, Hoyer and Canfield 2007.*Canfield and others 1985.*Chambers and Kalff 1985/);
  await page.goto(page.url().replace(/\?.*/, "?level_m=-99"));
  await settled(page);
  assert.match(await page.textContent("[role=alert]"), /dry/i);
  assert.match(await page.textContent(".answer"), / covers /);
  await page.getByRole("button", { name: "Leave the question" }).click();
  await addressed(page, "level_m", null);
  assert.equal(await page.locator("[role=alert]").count(), 0);
  await close();
});

test("the map shows how far the nearest depth is, and the table says the same", async () => {
  const lake = await answer("/api/lake");
  const { page, troubles, close } = await open(browser, "/lake");
  const key = page.locator(".legend .ramp strong");
  assert.match(await key.textContent(), /^Depth, feet/);
  await page.getByLabel("distance to the nearest depth").check();
  await addressed(page, "show", "distance");
  assert.match(await key.textContent(), /^Distance to the nearest depth, feet/);
  assert.ok((await pixels(page, [0xfd, 0x8d, 0x3c])) > 20, "the farthest water has its colour");
  const rows = page.locator("#near-table tbody tr");
  assert.equal(await rows.count(), lake.datum_distance.bands.length);
  const name = await page.locator("[role=application]").getAttribute("aria-label");
  assert.match(name, /^Half the lake lies within .* of a depth/);
  const described = await page.locator("[role=application]").getAttribute("aria-describedby");
  assert.equal(await page.locator(`#${described}`).count(), 1);
  const hatched = page.getByLabel("hatched");
  await hatched.selectOption({ index: 0 });
  await settled(page);
  assert.deepEqual(
    await violationsInThemes(page, (theme) => picture(page, `lake-distance-${theme}`)),
    CLEAN,
  );
  await page.getByRole("radio", { name: "depth", exact: true }).check();
  await addressed(page, "show", null);
  assert.match(await key.textContent(), /^Depth, feet/);
  assert.deepEqual(troubles, []);
  await close();
});

test("wind, slope, both curves and the error of the model stand below the map", async () => {
  const lake = await answer("/api/lake");
  const { page, close } = await open(browser, "/lake", { size: PHONE });
  const table = (name) => page.getByRole("table", { name });
  assert.equal(await table("Fetch by direction").locator("tbody tr").count(), 4);
  const slopes = table(/How steep is the bed/);
  assert.equal(await slopes.locator("tbody tr").count(), lake.slope_by_depth.length);
  const mean = `${lake.slope.mean_percent.toFixed(1)}\u202f%`;
  assert.ok((await slopes.locator("tfoot").textContent()).includes(mean), mean);
  assert.equal(await page.locator(".plot svg[role=img]").count(), 2, "area and volume below each depth");
  const off = (lake.error.mean_m / 0.3048).toFixed(2);
  assert.ok((await page.textContent(".sure")).includes(off), `off by ${off} ft`);
  const print = page.getByRole("link", { name: /Print the depth map/ });
  const paper = await page.request.get(new URL(await print.getAttribute("href"), page.url()).href);
  assert.equal(paper.headers()["content-type"], "application/pdf");
  await page.locator(".volume").scrollIntoViewIfNeeded();
  await picture(page, "lake-numbers-phone");
  await close();
});

test("how depths were measured is said where the file is added", async () => {
  const { page, troubles, close } = await open(browser, "/lake?step=file");
  const rows = "longitude,latitude,depth_ft\n";
  const [west, south] = await answer("/api/lake").then((lake) => lake.datum_distance.farthest_lon_lat);
  const file = { name: "soundings.csv", mimeType: "text/csv", buffer: Buffer.from(`${rows}${west},${south},10\n`) };
  await page.getByLabel("File", { exact: true }).setInputFiles(file);
  await settled(page);
  assert.match(await page.textContent(".answer"), /10\.0 to 10\.0 feet deep/);
  await page.getByLabel("the water stood").fill("2");
  await page.getByLabel("the water stood").blur();
  await page.getByLabel("the transducer hung").fill("0.5");
  await page.getByLabel("the transducer hung").blur();
  await page.waitForFunction(() => document.querySelector(".answer").textContent.includes("8.5 to 8.5 feet"));
  await page.getByLabel("above or below").selectOption("below");
  await page.waitForFunction(() => document.querySelector(".answer").textContent.includes("12.5 to 12.5 feet"));
  assert.match(await page.textContent(".warnings"), /transducer.*\n?.*water stood/s);
  assert.deepEqual(await violationsInThemes(page, (theme) => picture(page, `lake-file-day-${theme}`)), CLEAN);
  assert.deepEqual(troubles, []);
  await close();
});
