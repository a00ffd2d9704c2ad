// What keeps a record sure for twenty years: another scale says why, a sealed survey changes by a signed amendment, and
// two copies of a book come together with every contradiction chosen by a person.
import assert from "node:assert/strict";
import { execFileSync } from "node:child_process";
import { readFileSync } from "node:fs";
import { join } from "node:path";
import { after, before, test } from "node:test";
import { CLEAN, DESK, launch, open, overflow, ownBook, PHONE, picture, settled, violations, violationsInThemes } from "./browser.mjs";

const SEALED = "2026-summer";
let browser;
let own;
const ask = async (path, method = "GET", body = undefined) => {
  const response = await fetch(`${own.base}/api/${path}`, {
    method,
    headers: { "content-type": "application/json" },
    ...(body && { body: JSON.stringify(body) }),
  });
  assert.ok(response.ok, `${path} answered ${response.status} ${await response.clone().text()}`);
  return response.status === 204 ? null : response.json();
};
const run = (...words) => execFileSync(own.program, words, { encoding: "utf8" });
const record = (words) => `/record?${new URLSearchParams(words)}`;

before(async () => {
  browser = await launch();
  own = await ownBook();
});
after(async () => {
  await browser.close();
  own?.close();
});

/** Pictures at both sizes and axe in both themes; the page is left at the size of a laptop. */
async function looked(page, name) {
  for (const [where, size] of [["desk", DESK], ["phone", PHONE]]) {
    await page.setViewportSize(size);
    await settled(page);
    const look = async (theme) => {
      await picture(page, `${name}-${where}-${theme}`);
      assert.equal(await overflow(page), "", `${name} ${where} ${theme}`);
    };
    assert.deepEqual(await violationsInThemes(page, look), CLEAN, `${name} ${where}`);
  }
  await page.setViewportSize(DESK);
}

test("a survey on another scale than the last asks why, and the reason stands at the break", async () => {
  const { page, troubles, close } = await open(browser, record({ survey: SEALED, view: "new" }), { base: own.base });
  const why = page.getByLabel("Why another scale?");
  await page.getByLabel("Its name").fill("on words");
  assert.equal(await page.getByLabel("Rating scale").inputValue(), "handful", "the scale of the last survey is taken");
  assert.equal(await why.count(), 0, "nobody is asked why a scale is kept");
  await page.getByLabel("Rating scale").selectOption("words");
  await why.waitFor();
  await looked(page, "record-new-survey");
  // without a reason nothing begins
  await page.getByRole("button", { name: "Begin" }).press("Enter");
  assert.equal((await ask("surveys")).length, 3);
  await why.fill("the county asks for words");
  await page.getByRole("button", { name: "Begin" }).press("Enter");
  await page.locator("table.grid").waitFor();
  const stand = await ask("surveys/on%20words/scale");
  assert.deepEqual([stand.scale.key, stand.differs, stand.reason], ["words", true, "the county asks for words"]);

  // a plan asks the same
  await page.goto(`${own.base}/plan?step=sites&layout=balanced&n=5`);
  await page.getByLabel("Rating scale").selectOption("fullness");
  await why.fill("rakes are weighed now");
  await page.getByLabel("Name of the survey").fill("on fullness");
  await settled(page);
  await picture(page, "plan-scale-desk");
  await page.getByRole("button", { name: "Keep", exact: true }).press("Enter");
  await page.waitForURL(/survey=on\+fullness/);
  assert.equal((await ask("surveys/on%20fullness/scale")).reason, "rakes are weighed now");

  // a file whose ratings are of another scale is looked at, and stored once somebody says why
  await ask("surveys", "POST", { by: "Ann", name: "from a file", scale: "handful", throws_per_site: 1 });
  await page.goto(own.base + record({ survey: "from a file", view: "file" }));
  const table = "site,date,depth (ft),species,rating\n1,2026-08-14,6.5,Chara,5\n2,2026-08-14,7,Chara,1\n";
  const file = (name) => ({ name, mimeType: "text/csv", buffer: Buffer.from(table) });
  await page.locator("input[type=file]").setInputFiles(file("august.csv"));
  await page.getByText(/must be put right/).waitFor();
  await page.getByLabel("ratings by").selectOption({ label: "a scale made of the ratings in it" });
  const store = page.getByRole("button", { name: "Store two visits" });
  await why.waitFor();
  assert.equal(await store.isDisabled(), true);
  await why.fill("as the consultant had it");
  assert.deepEqual(await violations(page), []);
  await picture(page, "record-file-scale-desk");
  await store.press("Enter");
  await page.getByRole("status").filter({ hasText: "Stored two visits" }).waitFor();
  assert.equal((await ask("surveys/from%20a%20file/scale")).reason, "as the consultant had it");

  // where the record is closed it is said, and can be put right
  await page.goto(own.base + record({ survey: "from a file", view: "close" }));
  const scale = page.getByRole("region", { name: /^Rated by/ });
  await scale.getByText("as the consultant had it").waitFor();
  await scale.getByRole("button", { name: "Another scale" }).press("Enter");
  await scale.getByLabel("Why?").fill("as the consultant, who left, had it");
  await scale.getByRole("button", { name: "Keep" }).press("Enter");
  await scale.getByText("as the consultant, who left, had it").waitFor();
  await picture(page, "record-close-scale-desk");
  // the refused preview above is the one answer that was no success
  assert.deepEqual(troubles.filter((one) => !/400/.test(one)), []);
  await close();
});

test("a sealed site is amended with who and why, and that stands wherever the record is", async () => {
  const before = await ask(`surveys/${SEALED}/entry`);
  const at = before.visits.findIndex(
    (one) => one.visit.depth_m > 0.5 && one.visit.throws[0]?.observations.some((o) => o.seen === "rake" && o.rating === "M"),
  );
  const { site, visit } = before.visits[at];
  const { page, troubles, close } = await open(browser, record({ survey: SEALED }), { base: own.base });
  const sheet = Math.floor(before.sites.findIndex((one) => one.code === site) / 15) + 1;
  await page.goto(own.base + record({ survey: SEALED, sheet: `${sheet}` }));
  const row = page.getByRole("table", { name: "The sheet" }).locator("tbody tr", {
    has: page.getByRole("rowheader", { name: site, exact: true }),
  });
  await row.locator("td.depth").click();
  await page.getByRole("button", { name: `Amend site ${site}` }).press("Enter");
  const panel = page.getByRole("region", { name: `Amend site ${site}` });
  await panel.getByLabel("Amended by").fill("B. Loon");
  // no boxes before somebody says why
  await page.keyboard.press("Enter");
  assert.equal(await panel.getByRole("table").count(), 0);
  await panel.getByLabel("Why?").fill("sheet misread");
  await page.keyboard.press("Enter");
  const boxes = panel.getByRole("table", { name: `Boxes of site ${site}` });
  await boxes.waitFor();
  const keep = panel.getByRole("button", { name: "Keep as an amendment" });
  assert.equal(await keep.isDisabled(), true, "nothing is changed yet");
  await page.keyboard.press("Control+a");
  await page.keyboard.type("3.5");
  await page.keyboard.press("Tab");
  await page.keyboard.press("Tab");
  const thrown = boxes.locator("td.throw1 input");
  const text = await thrown.inputValue();
  await page.keyboard.press("Control+a");
  await page.keyboard.insertText(text.replace(/ M\b/, " S"));
  await panel.getByText("depth").last().waitFor();
  await looked(page, "record-amend");
  await keep.press("Enter");
  const list = page.getByRole("list", { name: "Amendments" });
  await list.getByText(`by B. Loon, site ${site}: sheet misread`).waitFor();
  const header = page.getByRole("table", { name: "The sheet" }).getByRole("rowheader", { name: `${site} amended: a` });
  await header.waitFor();
  await picture(page, "record-amended-desk");

  const after = await ask(`surveys/${SEALED}/entry`);
  const now = after.visits.find((one) => one.site === site).visit;
  assert.ok(Math.abs(now.depth_m - 3.5 * 0.3048) < 1e-9);
  const ratings = (one) => one.throws[0].observations.map((o) => o.rating);
  assert.notDeepEqual(ratings(now), ratings(visit));
  assert.notEqual(after.seal.sha256, before.seal.sha256, "the seal is renewed over the record as amended");
  assert.deepEqual([after.seal.by, after.seal.at], [before.seal.by, before.seal.at]);
  assert.deepEqual(after.amendments.map(({ by, why, sites }) => [by, why, sites]), [["B. Loon", "sheet misread", [site]]]);
  assert.equal((await ask("verify")).ok, true);

  for (const address of [`/findings?survey=${SEALED}`, record({ survey: SEALED, view: "close" }), "/library"]) {
    await page.goto(own.base + address);
    await page.getByText("sheet misread").first().waitFor();
  }
  await page.goto(own.base + record({ survey: SEALED, view: "close" }));
  const paper = page.getByRole("link", { name: "The record on paper" });
  const answered = await fetch(new URL(await paper.getAttribute("href"), own.base));
  assert.equal(answered.headers.get("content-type"), "application/pdf");
  assert.equal(Buffer.from(await answered.arrayBuffer()).subarray(0, 5).toString(), "%PDF-");
  // without a reason the book refuses, whoever asks
  const bare = await fetch(`${own.base}/api/surveys/${SEALED}/visits/${site}`, {
    method: "PUT",
    headers: { "content-type": "application/json" },
    body: JSON.stringify({ by: "B. Loon", base_version: null, visit: now }),
  });
  assert.equal(bare.status, 409);
  assert.match((await bare.json()).hint, /amend/);
  assert.deepEqual(troubles, []);
  await close();
});

test("a backup is taken, another copy taken in, and what contradicts is chosen with a name", async () => {
  const survey = ["--survey", "two houses"];
  run("plan", own.book, ...survey, "--layout", "balanced", "--sites", "4", "--max-depth", "10ft");
  run("visit", own.book, ...survey, "--site", "1", "--depth", "4ft", "--throw", "1: 0", "--by", "Ann");
  const { page, troubles, close } = await open(browser, "/library?view=copies", { base: own.base });
  await page.getByText("Nothing in this book contradicts itself.").waitFor();
  const [download] = await Promise.all([
    page.waitForEvent("download"),
    page.getByRole("link", { name: /^Download a backup/ }).click(),
  ]);
  const copy = join(own.folder, "copy.gpkg");
  await download.saveAs(copy);
  assert.match(download.suggestedFilename(), /^lake-\d{4}-\d{2}-\d{2}\.gpkg$/);
  run("verify", copy);

  // Ann and Ben go on apart
  run("visit", own.book, ...survey, "--site", "1", "--depth", "5ft", "--by", "Ann");
  run("visit", copy, ...survey, "--site", "1", "--depth", "6ft", "--by", "Ben");
  run("visit", copy, ...survey, "--site", "2", "--depth", "3ft", "--throw", "1: 0", "--by", "Ben");

  const take = async (name, bytes) => {
    await page.getByLabel("The copy").setInputFiles({ name, mimeType: "application/octet-stream", buffer: bytes });
    await page.getByLabel("Taken in by").fill("Ann");
    await page.getByRole("button", { name: "Take it in" }).press("Enter");
  };
  const whole = readFileSync(copy);
  const stranger = join(own.folder, "stranger.gpkg");
  run("new", stranger, "--name", "Other Lake");
  const log = async () => (await ask("surveys/two%20houses/history")).length;
  const before = await log();
  for (const [name, bytes, says] of [
    ["notes.gpkg", Buffer.from("these are notes\n".repeat(100)), /notes\.gpkg/],
    ["cut.gpkg", whole.subarray(0, Math.floor(whole.length / 2)), /cut off/],
    ["stranger.gpkg", readFileSync(stranger), /not a copy of this book/],
  ]) {
    await take(name, bytes);
    const told = page.getByRole("alert").filter({ hasText: says });
    await told.first().waitFor();
    const text = await told.first().textContent();
    assert.match(text, /Nothing was taken in/);
    assert.ok(!text.includes("/tmp/"), text);
    assert.equal(await log(), before, name);
  }
  await take("copy.gpkg", whole);
  await page.getByRole("status").filter({ hasText: "taken in" }).waitFor();
  const conflict = page.getByRole("listitem").filter({ hasText: "Visit of site 1 of two houses" });
  await conflict.waitFor();
  assert.match(await conflict.getByRole("table").textContent(), /Ann.*Ben/s);
  await looked(page, "library-copies");

  // it stands open where the record is, too
  await page.goto(own.base + record({ survey: "two houses" }));
  await page.getByRole("link", { name: "Choose between the two" }).click();
  await page.getByLabel("Chosen by").fill("Cy");
  await conflict.getByRole("button", { name: "Take what Ben wrote" }).press("Enter");
  await page.getByText("Nothing in this book contradicts itself.").waitFor();
  const visits = new Map((await ask("surveys/two%20houses/entry")).visits.map((one) => [one.site, one]));
  assert.ok(Math.abs(visits.get("1").visit.depth_m - 6 * 0.3048) < 1e-9);
  assert.equal(visits.get("2").changed_by, "Ben");
  const saves = await ask("surveys/two%20houses/history");
  assert.ok(saves.some((save) => save.by === "Cy" && /conflict settled/.test(save.note)));
  assert.equal((await ask("verify")).ok, true);
  assert.deepEqual(troubles.filter((one) => !/40[09]/.test(one)), []);
  await close();
});
