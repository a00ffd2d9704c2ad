import assert from "node:assert/strict";
import { after, before, test } from "node:test";
import {
  bareBook,
  launch,
  open,
  overflow,
  ownBook,
  PHONE,
  picture,
  settled,
  violations,
} from "./browser.mjs";

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

test("by keyboard alone an overlapping zone is drawn, flagged in words, and taken back", async () => {
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
  await page
    .getByText(/lie on each other over/)
    .first()
    .waitFor();
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
    await settled(page);
    assert.deepEqual(await violations(page), []);
    assert.equal(await overflow(page), "");
    await picture(page, `draw-phone${path.includes("scan") ? "-scan" : ""}`);
    await close();
  }
});

/** A picture 400 pixels wide, a square of 200 in its midst, made by the browser itself. */
const square = (page) =>
  page.evaluate(async () => {
    const canvas = document.createElement("canvas");
    [canvas.width, canvas.height] = [400, 400];
    const pen = canvas.getContext("2d");
    pen.fillStyle = "#fffdf5";
    pen.fillRect(0, 0, 400, 400);
    pen.strokeRect(100, 100, 200, 200);
    return canvas.toDataURL("image/png").split(",")[1];
  });

test("a lake without a shore starts from a scan, outline and contour typed in as numbers", async () => {
  const bare = await bareBook();
  try {
    const { page, close } = await open(browser, "/lake", { base: bare.base });
    await page.getByRole("link", { name: "Start from a scanned map" }).click();
    const bytes = Buffer.from(await square(page), "base64");
    await page
      .getByLabel(/Picture of the map/)
      .setInputFiles({ name: "old-map.png", mimeType: "image/png", buffer: bytes });
    // 0.005° of latitude and 0.00707° of longitude at 45° N over 200 pixels: about 2.78 m a pixel
    const corners = [
      [100, 100, 45.005, -91.2],
      [300, 100, 45.005, -91.19293],
      [300, 300, 45, -91.19293],
      [100, 300, 45, -91.2],
    ];
    for (const [index, values] of corners.entries()) {
      if (index > 0) await page.getByRole("button", { name: "Another point" }).click();
      const row = page.locator(".pins li").nth(index);
      for (const [n, label] of ["across", "down", "latitude", "longitude"].entries()) {
        await row.getByLabel(label).fill(String(values[n]));
      }
    }
    await page.getByText(/hold the map/).waitFor();
    // the paper of the picture is seen, not only its points: its midst is #fffdf5
    const seen = await page
      .locator(".sheet canvas")
      .first()
      .evaluate((canvas) => {
        const [width, height] = [canvas.width, canvas.height];
        return [...canvas.getContext("2d").getImageData(width / 2, height / 2, 1, 1).data];
      });
    assert.deepEqual(seen, [255, 253, 245, 255]);
    // a point mistyped by a degree is pointed out before anything is kept
    const third = page.locator(".pins li").nth(2).getByLabel("latitude");
    await third.fill("46");
    await page.getByRole("status").getByText("Point 3 does not fit the others").waitFor();
    await page
      .getByRole("alert")
      .getByText(/^Point 3 does not fit the others: it lies/)
      .waitFor();
    assert.ok(await page.getByRole("button", { name: "Keep it under the lake" }).isDisabled());
    await picture(page, "scan-outlier");
    await third.fill("45");
    await settled(page);
    await picture(page, "scan-points");
    await page.getByRole("button", { name: "Keep it under the lake" }).click();
    await page.getByText("Where are the shore and the zones?").waitFor();
    const keep = async (lines) => {
      const numbers = page.getByLabel(/Latitude, longitude/);
      if (!(await numbers.isVisible())) await page.getByText("Corners as numbers").click();
      await numbers.fill(lines.map((line) => line.join(", ")).join("\n"));
      await settled(page);
      await page.getByRole("button", { name: "Keep it", exact: true }).click();
    };
    await keep(corners.map(([, , latitude, longitude]) => [latitude, longitude]));
    await page.getByText("of water in").waitFor();
    await tool(page, "Contour");
    await page.getByLabel(/Depth/).fill("8");
    const ring = [
      [45.0015, -91.198],
      [45.0015, -91.195],
      [45.0035, -91.195],
      [45.0035, -91.198],
      [45.0015, -91.198],
    ];
    await keep(ring);
    await told(page, /traced/i);
    const lake = await (await fetch(`${bare.base}/api/lake`)).json();
    // GeographicLib through pyproj's Geod("WGS84").polygon_area_perimeter gives 309,737 m² for the quadrangle
    assert.ok(Math.abs(lake.area_m2 / 309_737 - 1) < 1e-4, String(lake.area_m2));
    assert.deepEqual(
      (await (await fetch(`${bare.base}/api/draw`)).json()).contours.map((one) => [
        one.geometry.type,
        Math.round(one.depth_m / 0.3048),
      ]),
      [["MultiLineString", 8]],
    );
    assert.ok(lake.littoral.area_m2 > 0 && lake.volume_m3 > 0);
    await settled(page);
    await picture(page, "scan-traced");
    await close();
  } finally {
    bare.close();
  }
});
