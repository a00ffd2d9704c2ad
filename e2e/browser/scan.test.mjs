// A lake that is known from an old paper map alone: put under the lake, traced, and read as acres and depths.
import assert from "node:assert/strict";
import { after, before, test } from "node:test";
import { bareBook, launch, open, picture } from "./browser.mjs";

let browser;
before(async () => {
  browser = await launch();
});
after(() => browser.close());

const tool = (page, name) => page.getByRole("radio", { name, exact: true }).check();
/** Waits until the save is told. */
const told = (page, words) => page.getByRole("status").getByText(words).waitFor();

/** A picture of a square of 200 pixels, made by the browser itself. */
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

test("a lake without shore starts from a scan, traced into an outline and a contour", async () => {
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
    // a point mistyped by a degree is pointed out before anything is kept
    const third = page.locator(".pins li").nth(2).getByLabel("latitude");
    await third.fill("46");
    await page.locator(".off").first().waitFor();
    await page.waitForTimeout(600);
    await picture(page, "scan-outlier");
    await third.fill("45");
    await page.waitForTimeout(600);
    await picture(page, "scan-points");
    await page.getByRole("button", { name: "Keep it under the lake" }).click();
    await page.getByText("Where are the shore and the zones?").waitFor();
    const keep = async (lines) => {
      const numbers = page.getByLabel(/Latitude, longitude/);
      if (!(await numbers.isVisible())) await page.getByText("Corners as numbers").click();
      await numbers.fill(lines.map((line) => line.join(", ")).join("\n"));
      await page.waitForTimeout(400);
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
    // PROJ's geodesic (Karney 2013) on WGS 84 gives 309,737.1 m² for this quadrangle
    assert.ok(Math.abs(lake.area_m2 / 309_737.1 - 1) < 1e-6, String(lake.area_m2));
    assert.ok(lake.littoral.area_m2 > 0 && lake.volume_m3 > 0);
    await page.waitForTimeout(600);
    await picture(page, "scan-traced");
    await close();
  } finally {
    bare.close();
  }
});
