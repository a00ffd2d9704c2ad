// What the tests of the drawing page share: the hand, what it finds on the map, and places of the plane.
import assert from "node:assert/strict";
import { settled } from "./browser.mjs";

export const tool = (page, name) => page.getByRole("radio", { name, exact: true }).check();
/** Waits until the save is told. */
export const told = (page, words) => page.getByRole("status").getByText(words).waitFor();
export const button = (page, name) => page.getByRole("button", { name, exact: true });
export const keep = (page) => button(page, "Keep it").click();
export const areaOf = (view, code) => view.areas.find((one) => one.code === code);
export const ringOf = (area) => area.geometry.coordinates[0][0].slice(0, -1);
export const far = (a, b) => Math.hypot(a[0] - b[0], a[1] - b[1]);
export const near = (a, b, reach, what) => assert.ok(Math.abs(a - b) < reach, `${what}: ${a}, not ${b}`);
export const undo = async (page) => {
  await button(page, "Undo").click();
  await told(page, /taken back/i);
};

/** How places of the plane stand on the page when the whole lake is in the frame, and the mouse there. */
export async function hand(page, view) {
  await button(page, "whole lake").click();
  const box = await page.locator(".board [role=application]").boundingBox();
  const [west, south, east, north] = view.extent;
  const scale = Math.max((east - west) / (box.width - 56), (north - south) / (box.height - 56));
  const seen = ([x, y]) => [
    box.x + box.width / 2 + (x - (west + east) / 2) / scale,
    box.y + box.height / 2 - (y - (south + north) / 2) / scale,
  ];
  const place = (px, py) => [
    (west + east) / 2 + (px - box.x - box.width / 2) * scale,
    (south + north) / 2 - (py - box.y - box.height / 2) * scale,
  ];
  // two clicks on one spot within a moment are a double click: moving first is enough
  const click = async (x, y) => {
    await page.mouse.move(x, y);
    await page.mouse.click(x, y);
  };
  return { box, scale, seen, place, click };
}

/** Draws a closed ring by mouse, the last corner by a double click. */
export async function ring(page, corners) {
  for (const [x, y] of corners.slice(0, -1)) {
    await page.mouse.move(x, y);
    await page.mouse.click(x, y);
    await page.waitForTimeout(280);
  }
  await page.mouse.move(...corners.at(-1));
  await page.mouse.dblclick(...corners.at(-1));
}
export const zoneForm = async (page, code) => {
  await page.getByLabel("Code", { exact: true }).fill(code);
};

/** A spot in the lake with no corner and no edge within so many metres. */
export function openWater(view, room) {
  const rings = [...view.areas.map((one) => one.geometry), view.outline].flatMap((shape) =>
    shape.coordinates.flat(),
  );
  const inside = ([x, y], line) =>
    line.reduce((odd, [x1, y1], i) => {
      const [x2, y2] = line[(i + 1) % line.length];
      return y1 > y !== y2 > y && x < ((x2 - x1) * (y - y1)) / (y2 - y1) + x1 ? !odd : odd;
    }, false);
  const [west, south, east, north] = view.extent;
  const gap = (at) =>
    Math.min(
      ...rings.flatMap((line) =>
        line.slice(1).map(([x2, y2], i) => {
          const [x1, y1] = line[i];
          const [dx, dy] = [x2 - x1, y2 - y1];
          const share = ((at[0] - x1) * dx + (at[1] - y1) * dy) / (dx * dx + dy * dy || 1);
          const t = Math.max(0, Math.min(1, share));
          return far(at, [x1 + t * dx, y1 + t * dy]);
        }),
      ),
    );
  let best = null;
  let least = room;
  for (let i = 1; i < 40; i++) {
    for (let j = 1; j < 40; j++) {
      const at = [west + ((east - west) * i) / 40, south + ((north - south) * j) / 40];
      if (!inside(at, view.outline.coordinates[0][0])) continue;
      const wide = gap(at);
      if (wide > least) [best, least] = [at, wide];
    }
  }
  assert.ok(best, `no open water ${room} m wide`);
  return { at: best, room: least };
}

/** How many pixels of the accent stand within 14 of a spot of the page. */
export const accentAt = (page, [x, y]) =>
  page.evaluate(
    ([px, py]) => {
      let n = 0;
      for (const canvas of document.querySelectorAll(".board canvas")) {
        const box = canvas.getBoundingClientRect();
        const ratio = canvas.width / box.width;
        const { data } = canvas
          .getContext("2d")
          .getImageData((px - box.x - 14) * ratio, (py - box.y - 14) * ratio, 28 * ratio, 28 * ratio);
        for (let i = 0; i < data.length; i += 4) {
          const off = [data[i] - 0x9c, data[i + 1] - 0x14, data[i + 2] - 0x58];
          if (off.every((one) => Math.abs(one) < 24) && data[i + 3] > 200) n++;
        }
      }
      return n;
    },
    [x, y],
  );

export const typed = async (page, corners) => {
  const numbers = page.getByLabel(/Latitude, longitude/);
  if (!(await numbers.isVisible())) await page.getByText("Corners as numbers").click();
  await numbers.fill(corners.map((one) => one.join(", ")).join("\n"));
  await settled(page);
};
export const boxAt = ([x, y], wide, high = wide) => [
  [x - wide, y - high],
  [x + wide, y - high],
  [x + wide, y + high],
  [x - wide, y + high],
];
