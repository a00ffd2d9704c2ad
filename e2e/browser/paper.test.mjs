// The picture of a field sheet beside the rows it holds: filed, shown, and following the row that is typed.
import assert from "node:assert/strict";
import { after, before, test } from "node:test";
import { DESK, launch, open, overflow, ownBook, PHONE, picture, violations } from "./browser.mjs";

const SURVEY = "with paper";
const path = `/record?${new URLSearchParams({ survey: SURVEY })}`;
let browser;
let own;
const send = async (where, body) => {
  const headers = { "content-type": "application/json" };
  const response = await fetch(own.base + where, { method: "POST", headers, body: JSON.stringify(body) });
  assert.ok(response.ok, `${where}: ${response.status} ${await response.clone().text()}`);
};

before(async () => {
  browser = await launch();
  own = await ownBook();
  await send("/api/surveys", { by: "A. Marsh", name: SURVEY, scale: "handful", throws_per_site: 1 });
  for (const code of ["1", "2", "3"]) {
    await send(`/api/surveys/${encodeURIComponent(SURVEY)}/sites`, { by: "A. Marsh", code });
  }
});
after(async () => {
  await browser.close();
  own?.close();
});

/** A page with three lines on it and no mark. */
const page3 = (page) =>
  page.evaluate(() => {
    const canvas = document.createElement("canvas");
    [canvas.width, canvas.height] = [850, 1100];
    const pen = canvas.getContext("2d");
    pen.fillStyle = "#fff";
    pen.fillRect(0, 0, 850, 1100);
    pen.fillStyle = "#111";
    for (let row = 0; row < 3; row++) pen.fillRect(50, 320 + row * 40, 750, 2);
    return canvas.toDataURL("image/jpeg", 0.9).split(",")[1];
  });

test("a picture without a mark is said to be the sheet on screen, stands beside its rows, and survives a reload", async () => {
  const { page, close } = await open(browser, path, { base: own.base, size: DESK });
  const file = { name: "sheet.jpg", mimeType: "image/jpeg", buffer: Buffer.from(await page3(page), "base64") };
  await page.locator("input[type=file]").setInputFiles(file);
  await page.getByText("shows no mark of a field sheet").waitFor();
  await page.getByRole("button", { name: /^It is sheet 1/ }).press("Enter");
  await page.getByRole("button", { name: "Hide the paper" }).waitFor();
  const filed = await (await fetch(`${own.base}/api/surveys/${encodeURIComponent(SURVEY)}/sheet-pictures`)).json();
  assert.equal(filed.length, 1);
  await page.reload();
  await page.getByText("sheet 1, sheet.jpg").waitFor();
  await picture(page, "paper-desk");
  assert.deepEqual(await violations(page), []);
  assert.equal(await overflow(page), "");
  await page.getByRole("button", { name: "Hide the paper" }).press("Enter");
  await page.getByRole("button", { name: "Show the paper" }).waitFor();
  await close();
  const phone = await open(browser, path, { base: own.base, size: PHONE });
  await phone.page.getByRole("button", { name: "Show the paper" }).waitFor();
  assert.deepEqual(await violations(phone.page), []);
  assert.equal(await overflow(phone.page), "");
  await phone.close();
});
