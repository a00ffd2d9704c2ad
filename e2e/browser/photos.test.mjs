// Photos on screen: sent, brought to their sites by the clock, put right, linked, and what is no photo refused.
import assert from "node:assert/strict";
import { after, before, test } from "node:test";
import { CLEAN, DESK, launch, open, overflow, ownBook, PHONE, picture, violationsInThemes } from "./browser.mjs";

const SURVEY = "with photos";
let browser;
let own;
const path = (words = {}) => `/record?${new URLSearchParams({ survey: SURVEY, view: "photos", ...words })}`;
const address = (what) => `${own.base}/api/surveys/${encodeURIComponent(SURVEY)}/${what}`;
const send = async (method, what, body) => {
  const response = await fetch(what.startsWith("/") ? own.base + what : address(what), {
    method,
    headers: { "content-type": "application/json" },
    body: JSON.stringify(body),
  });
  assert.ok(response.ok, `${what}: ${response.status} ${await response.clone().text()}`);
};
const photos = async () => (await fetch(address("photos"))).json();

before(async () => {
  browser = await launch();
  own = await ownBook();
  await send("POST", "/api/surveys", { by: "A. Marsh", name: SURVEY, scale: "handful", throws_per_site: 1 });
  for (const [code, time] of [["1", "2026-07-14T09:15"], ["2", "2026-07-14T09:45"]]) {
    await send("POST", "sites", { by: "A. Marsh", code });
    const visit = { time, depth_m: 2, throws: [{ number: 1, observations: [] }], observer: "T. Kay", note: "" };
    await send("PUT", `visits/${code}`, { by: "A. Marsh", base_version: null, visit });
  }
});
after(async () => {
  await browser.close();
  own?.close();
});

/** An Exif block with the time and the way up (Exif 2.32, JEITA CP-3451E 2019: tags 274 and 36867), big end first. */
function exif(time, orientation) {
  const text = Buffer.from(`${time}\0`);
  const head = Buffer.from("MM\0*\0\0\0\x08", "latin1");
  const entry = (tag, type, count, value) => {
    const bytes = Buffer.alloc(12);
    bytes.writeUInt16BE(tag, 0);
    bytes.writeUInt16BE(type, 2);
    bytes.writeUInt32BE(count, 4);
    if (type === 3) bytes.writeUInt16BE(value, 8);
    else bytes.writeUInt32BE(value, 8);
    return bytes;
  };
  const directory = (...entries) => Buffer.concat([Buffer.from([0, entries.length]), ...entries, Buffer.alloc(4)]);
  const second = 8 + 2 + 24 + 4;
  const first = directory(entry(274, 3, 1, orientation), entry(34665, 4, 1, second));
  const inner = directory(entry(36867, 2, text.length, second + 2 + 12 + 4));
  const body = Buffer.concat([Buffer.from("Exif\0\0"), head, first, inner, text]);
  const marker = Buffer.from([0xff, 0xe1, 0, 0]);
  marker.writeUInt16BE(body.length + 2, 2);
  return Buffer.concat([marker, body]);
}

/** A photo as a camera would write it. */
async function photo(page, time, orientation = 1, colour = "#14634b") {
  const data = await page.evaluate((fill) => {
    const canvas = document.createElement("canvas");
    [canvas.width, canvas.height] = [320, 240];
    const pen = canvas.getContext("2d");
    pen.fillStyle = "#dfe8ef";
    pen.fillRect(0, 0, 320, 240);
    pen.fillStyle = fill;
    for (let i = 0; i < 9; i++) pen.fillRect(20 + i * 32, 220 - i * 20, 14, i * 20 + 10);
    return canvas.toDataURL("image/jpeg", 0.9);
  }, colour);
  const jpeg = Buffer.from(data.split(",")[1], "base64");
  return Buffer.concat([jpeg.subarray(0, 2), exif(time, orientation), jpeg.subarray(2)]);
}

test("photos are brought to their sites, a clock is put right, an unknown is named, and what is no photo is refused", async (t) => {
  const { page, troubles, close } = await open(browser, path(), { base: own.base });
  const whole = await photo(page, "2026:07:14 10:16:00", 6);
  const lying = Buffer.from(await photo(page, "2026:07:14 10:16:30", 1, "#08306b"));
  // the frame header says height and width, big end first (ITU-T T.81, B.2.2)
  const frame = lying.indexOf(Buffer.from([0xff, 0xc0]));
  lying.fill(0xff, frame + 5, frame + 9);
  const files = [
    ["DSC_1.JPG", whole],
    ["DSC_2.JPG", await photo(page, "2026:07:14 10:46:00", 1, "#9c1458")],
    ["IMG_1.jpg", await photo(page, "2026:07:14 09:44:00", 1, "#4292c6")],
    ["DSC_3.JPG", whole.subarray(0, whole.length / 2)],
    ["DSC_4.JPG", lying],
  ].map(([name, buffer]) => ({ name, mimeType: "image/jpeg", buffer }));

  await t.test("five are sent: three kept, two refused in words", async () => {
    await page.locator("input[type=file]").setInputFiles(files);
    await page.getByText("5 of 5 read: 3 kept, 1 of them at a site").waitFor();
    const odd = page.locator(".odd");
    assert.match(await odd.textContent(), /DSC_3\.JPG.*cut off/s);
    assert.match(await odd.textContent(), /DSC_4\.JPG.*65535 × 65535 pixels/s);
    const kept = await photos();
    assert.deepEqual(kept.map((one) => [one.file_name, one.site]).sort(), [
      ["DSC_1.JPG", null],
      ["DSC_2.JPG", null],
      ["IMG_1.jpg", "2"],
    ]);
    const turned = kept.find((one) => one.file_name === "DSC_1.JPG");
    assert.deepEqual([turned.width, turned.height], [240, 320], "turned upright");
    assert.equal(await page.getByRole("list", { name: "Photos" }).getByRole("listitem").count(), 3);
  });

  await t.test("the true time of one photo puts the clock of its camera right, and only its", async () => {
    await page.getByRole("button", { name: /DSC_1\.JPG/ }).press("Enter");
    await page.getByLabel("truly taken at").fill("09:16");
    await page.getByRole("button", { name: "all 2 photos of this camera" }).press("Enter");
    await page.getByText("2 of its photos are at a site").waitFor();
    assert.deepEqual((await photos()).map((one) => [one.file_name, one.site, one.taken]).sort(), [
      ["DSC_1.JPG", "1", "2026-07-14T09:16:00"],
      ["DSC_2.JPG", "2", "2026-07-14T09:46:00"],
      ["IMG_1.jpg", "2", "2026-07-14T09:44:00"],
    ]);
  });

  await t.test("what a photo shows is kept: caption, ruler, an unknown, which is named from there", async () => {
    const panel = page.getByRole("region", { name: "DSC_1.JPG" });
    await panel.getByText("T. Kay").waitFor();
    await panel.getByLabel("caption").fill("leaf from above");
    await panel.getByLabel("a ruler is in the picture").check();
    await panel.getByText("Kept.").waitFor();
    await panel.getByRole("button", { name: "a new unknown" }).press("Enter");
    await panel.getByRole("form", { name: "Name UN-1" }).waitFor();
    assert.deepEqual(
      (await photos()).filter((one) => one.taxon === "UN-1").map((one) => [one.file_name, one.caption, one.with_ruler]),
      [["DSC_1.JPG", "leaf from above", true]],
    );
    await picture(page, "photos-desk-unknown");
    await page.getByRole("link", { name: "Plants", exact: true }).click();
    await page.getByRole("img", { name: "UN-1 at site 1: leaf from above" }).click();
    const form = page.getByRole("form", { name: "Name UN-1" });
    await form.getByLabel("UN-1 is").fill("Najas flexilis");
    await form.getByLabel("your name").fill("A. Marsh");
    await form.getByRole("button", { name: "Name it everywhere" }).press("Enter");
    await form.waitFor({ state: "detached" });
    assert.ok((await photos()).every((one) => one.taxon !== "UN-1"));
  });

  await t.test("the same photo sent again is known, and one is taken out", async () => {
    await page.goto(own.base + path());
    await page.locator("input[type=file]").setInputFiles(files.slice(0, 1));
    await page.getByText("1 the book had before").waitFor();
    await page.getByRole("button", { name: /site 2 09:44/ }).press("Enter");
    await page.getByRole("button", { name: "Take this photo out" }).press("Enter");
    await page.waitForFunction(() => document.querySelectorAll(".shots li").length === 2);
    assert.equal((await photos()).length, 2);
  });

  await t.test("the page keeps WCAG 2.2 AA by axe and the width of the window", async () => {
    for (const [where, size] of [["desk", DESK], ["phone", PHONE]]) {
      const other = await open(browser, path(), { base: own.base, size });
      await other.page.locator(".shots img").first().waitFor();
      const look = async (theme) => {
        await picture(other.page, `photos-${where}-${theme}`);
        assert.equal(await overflow(other.page), "", `${where} ${theme}`);
      };
      assert.deepEqual(await violationsInThemes(other.page, look), CLEAN, where);
      assert.deepEqual(other.troubles, [], where);
      await other.close();
    }
  });

  // a photo that is refused is told by the browser as well
  assert.deepEqual(troubles.filter((one) => !/400/.test(one)), []);
  await close();
});
