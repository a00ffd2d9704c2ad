import assert from "node:assert/strict";
import { readFileSync } from "node:fs";
import { after, before, test } from "node:test";
import { accent, answer, bareBook, launch, open, ownBook, picture } from "./browser.mjs";

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

/** A survey with spares in a book of its own. */
async function laid(book, name) {
  const response = await fetch(`${book.base}/api/plan`, {
    method: "POST",
    headers: { "content-type": "application/json" },
    body: JSON.stringify({ survey: name, layout: "balanced", sites: 40, spares: 4, max_depth_m: 4.5 }),
  });
  assert.equal(response.status, 200, await response.clone().text());
  return response.json();
}
const planOf = async (book, name) => (await fetch(`${book.base}/api/surveys/${name}/plan`)).json();
const placeOf = (plan, code) => plan.sites.find((site) => site.code === code);

test("a site is carried with the arrow keys and kept with a reason; one is dropped; a spare steps in", async () => {
  const book = await ownBook();
  try {
    const before = await laid(book, "2031-carry");
    const { page, troubles, close } = await open(browser, "/plan?step=sites&survey=2031-carry", { base: book.base });
    const rows = page.locator("#site-table [data-row]");
    assert.equal(await rows.count(), 44);
    const first = before.sites.find((site) => !site.spare && site.depth_m > 1.5);
    const row = (code) => page.locator(`#site-table [data-row="${code}"]`);
    await row(first.code).click();
    await page.getByRole("button", { name: "Move", exact: true }).focus();
    await page.keyboard.press("Enter");
    // the map has the cursor now, and the arrows are the site's
    for (const key of ["ArrowRight", "ArrowRight", "Shift+ArrowUp"]) await page.keyboard.press(key);
    assert.match(await page.textContent(".panel"), /north/);
    await page.keyboard.press("Enter");
    // the question takes the cursor
    await page.keyboard.type("a dock stands there");
    await page.keyboard.press("Tab");
    await page.keyboard.type("A. Tester");
    await page.keyboard.press("Enter");
    await page.getByRole("button", { name: "Keep" }).waitFor({ state: "detached" });
    let plan = await planOf(book, "2031-carry");
    const moved = placeOf(plan, first.code);
    // 10 feet a press, 50 with Shift
    assert.ok(Math.abs(moved.x - first.x - 6.096) < 0.02, `${moved.x - first.x}`);
    assert.ok(Math.abs(moved.y - first.y - 15.24) < 0.02, `${moved.y - first.y}`);
    assert.match(plan.changes.at(-1).note, /a dock stands there/);
    assert.match(plan.changes.at(-1).note, /A\. Tester/);
    assert.match(await row(first.code).textContent(), /a dock stands there/);
    await picture(page, "plan-moved");

    const second = before.sites.find((site) => !site.spare && site.code !== first.code);
    await row(second.code).click();
    await page.getByRole("button", { name: "Drop", exact: true }).click();
    // without a reason nothing is written
    await page.getByLabel("Why?").fill("");
    await page.getByRole("button", { name: "Keep" }).click();
    assert.equal(placeOf(await planOf(book, "2031-carry"), second.code).dropped, null);
    await page.getByLabel("Why?").fill("swim area");
    assert.equal(await page.getByLabel("Who says so?").inputValue(), "A. Tester");
    await page.getByRole("button", { name: "Keep" }).click();
    await page.getByRole("button", { name: "Take it back" }).waitFor();
    plan = await planOf(book, "2031-carry");
    assert.match(placeOf(plan, second.code).dropped, /swim area/);
    assert.equal(plan.count, 39);
    assert.match(await page.textContent(".answer"), /39 sites and four spares; one site dropped/);

    const third = before.sites.find((site) => ![first.code, second.code].includes(site.code) && !site.spare);
    await row(third.code).click();
    await page.getByRole("button", { name: /A spare instead/ }).click();
    await page.getByLabel("Why?").fill("private or unsafe");
    await page.getByRole("button", { name: "Keep" }).click();
    await page.getByRole("button", { name: "Take it back" }).waitFor();
    plan = await planOf(book, "2031-carry");
    assert.equal(plan.count, 39);
    assert.equal(plan.spares, 3);
    assert.deepEqual(troubles, []);
    await picture(page, "plan-dropped");
    await close();
  } finally {
    book.close();
  }
});

test("Escape puts a carried site back, and a place on land is refused in words", async () => {
  const book = await ownBook();
  try {
    const before = await laid(book, "2031-land");
    const site = before.sites[0];
    const { page, close } = await open(browser, `/plan?step=sites&survey=2031-land&site=${site.code}`, { base: book.base });
    await page.getByRole("button", { name: "Move", exact: true }).click();
    await page.keyboard.press("ArrowLeft");
    await page.keyboard.press("Escape");
    await page.getByRole("button", { name: "Move", exact: true }).waitFor();
    assert.deepEqual(placeOf(await planOf(book, "2031-land"), site.code).x, site.x);
    await page.getByRole("button", { name: "Move", exact: true }).click();
    for (let i = 0; i < 60; i++) await page.keyboard.press("Shift+ArrowLeft");
    await page.keyboard.press("Enter");
    await page.getByLabel("Why?").fill("to try it");
    await page.getByLabel("Who says so?").fill("A. Tester");
    await page.getByRole("button", { name: "Keep" }).click();
    await page.waitForSelector(".panel [role=alert]");
    assert.match(await page.textContent(".panel [role=alert]"), /land|water/);
    await page.getByRole("button", { name: "Leave it as it was" }).click();
    assert.deepEqual(placeOf(await planOf(book, "2031-land"), site.code).x, site.x);
    await close();
  } finally {
    book.close();
  }
});

test("a site dragged on the day's map is planned with at once, before it is kept", async () => {
  const book = await ownBook();
  try {
    await laid(book, "2031-drag");
    const { page, troubles, close } = await open(browser, "/plan?step=day&survey=2031-drag", { base: book.base });
    await page.waitForSelector("#day-table");
    await busy(page);
    const asked = [];
    page.on("request", (request) => {
      if (request.url().includes("/api/route?")) asked.push(new URL(request.url()).searchParams.get("try_at"));
    });
    const spot = await accent(page);
    assert.ok(spot.n > 0);
    // find a disc of the accent colour and drag it a little
    const disc = await page.evaluate(() => {
      const frame = document.querySelector("[role=application]").getBoundingClientRect();
      for (const canvas of document.querySelectorAll("[role=application] canvas")) {
        const { width, height } = canvas;
        const { data } = canvas.getContext("2d").getImageData(0, 0, width, height);
        const is = (x, y) => {
          const i = (y * width + x) * 4;
          return Math.abs(data[i] - 0x9c) + Math.abs(data[i + 1] - 0x14) + Math.abs(data[i + 2] - 0x58) < 12;
        };
        for (let y = 60; y < height - 60; y++) {
          for (let x = 60; x < width - 60; x++) {
            let all = true;
            for (let dy = -1; dy <= 1 && all; dy++) for (let dx = -1; dx <= 1 && all; dx++) all = is(x + dx, y + dy);
            if (all) return { x: frame.x + (x * frame.width) / width, y: frame.y + (y * frame.height) / height };
          }
        }
      }
      return null;
    });
    assert.ok(disc, "a disc on the map");
    await page.mouse.move(disc.x, disc.y);
    await page.mouse.down();
    await page.mouse.move(disc.x + 4, disc.y + 3, { steps: 4 });
    await page.mouse.move(disc.x + 9, disc.y + 6, { steps: 4 });
    await page.mouse.up();
    await page.getByLabel("Why?").waitFor();
    await busy(page);
    assert.equal(asked.length, 1);
    assert.match(asked[0], /^\S+\/\d+\.\d+\/\d+\.\d+$/);
    // reading the canvas, as this test does, earns a remark of the browser's
    assert.deepEqual(troubles.filter((text) => !text.includes("getImageData")), []);
    await page.getByRole("button", { name: "Leave it as it was" }).click();
    await busy(page);
    assert.equal(asked.at(-1), null);
    const kept = await planOf(book, "2031-drag");
    assert.equal(kept.changes.length, 0);
    await close();
  } finally {
    book.close();
  }
});

test("a route is kept, each paper comes as PDF, and the whole packet in one click", async () => {
  const book = await ownBook();
  try {
    await laid(book, "2031-papers");
    const { page, troubles, close } = await open(browser, "/plan?step=day&survey=2031-papers", { base: book.base });
    await page.waitForSelector("#day-table");
    await busy(page);
    await page.getByRole("button", { name: "Keep this route" }).click();
    await page.getByText("Kept: the papers and the GPS file follow this route.").waitFor();
    const kept = await (await fetch(`${book.base}/api/surveys/2031-papers/route`)).json();
    assert.equal(kept.boats.length, 1);
    await field(page, "Ink").selectOption("black");
    const links = await page.locator(".papers li a").evaluateAll((all) => all.map((link) => link.href));
    assert.ok(links.length >= 10);
    for (const link of links) {
      const response = await fetch(link);
      assert.equal(response.status, 200, link);
      if (!link.includes("/print/")) continue;
      assert.match(link, /black_and_white=true/);
      const start = Buffer.from(await response.arrayBuffer()).subarray(0, 5).toString("latin1");
      assert.equal(start, "%PDF-", link);
    }
    const waits = page.waitForEvent("download", { timeout: 240_000 });
    await page.getByRole("button", { name: "The whole packet" }).click();
    const packet = readFileSync(await (await waits).path());
    assert.equal(packet.subarray(0, 2).toString("latin1"), "PK");
    for (const paper of ["packet.pdf", "safety.pdf", "kit.pdf", "sheets.pdf", "map.pdf", ".gpx"]) {
      assert.ok(packet.includes(paper), paper);
    }
    assert.deepEqual(troubles, []);
    await close();
  } finally {
    book.close();
  }
});

test("a lake without a shore, without depths, without a launch: the page says what is missing and what to do", async () => {
  const empty = await bareBook();
  const shore = await bareBook((add, files) => add("outline", `${files}/outline.geojson`));
  try {
    for (const step of ["number", "sites", "day"]) {
      const { page, close } = await open(browser, `/plan?step=${step}`, { base: empty.base });
      await page.getByText("The lake has no shore yet").waitFor();
      assert.match(await page.textContent(".missing"), /quillwort add \S+ outline/);
      await close();
    }
    const { page, troubles, close } = await open(browser, "/plan?step=sites", { base: shore.base });
    await busy(page);
    // squares need no depth, and are offered first
    assert.equal(await page.getByRole("radio", { name: "Squares" }).isChecked(), true);
    assert.match(await page.textContent(".head"), /knows no depths/);
    assert.match(await page.textContent(".answer"), /^\d+ sites/);
    assert.equal(await page.getByLabel("Deepest water, ft").count(), 0);
    assert.equal(await page.getByRole("radio", { name: "Last survey's sites again" }).isDisabled(), true);
    await field(page, "Name of the survey").fill("2032-squares");
    await page.getByRole("button", { name: "Keep" }).click();
    await page.waitForSelector("#site-table");
    await page.getByRole("link", { name: "Next: does the day fit?" }).click();
    await page.getByText("The lake has no launch yet").waitFor();
    assert.match(await page.textContent(".missing"), /quillwort add \S+ landmarks/);
    assert.deepEqual(troubles, []);
    await close();
    const many = await open(browser, "/plan", { base: shore.base });
    assert.match(await many.page.textContent(".answer"), /^\d+ sites/);
    assert.match(await many.page.textContent(".head"), /no depths/);
    assert.deepEqual(many.troubles, []);
    await many.close();
  } finally {
    empty.close();
    shore.close();
  }
});
