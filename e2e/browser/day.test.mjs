// The day itself: what the GPS unit brings home against the plan, and the list of what to load.
import assert from "node:assert/strict";
import { after, before, test } from "node:test";
import { DESK, launch, open, overflow, ownBook, PHONE, picture, THEMES, violations } from "./browser.mjs";

const busy = (page) => page.waitForSelector("[aria-busy]", { state: "detached" });
let browser;
before(async () => {
  browser = await launch();
});
after(() => browser.close());

const SURVEY = "2031-track";
const MISSED = ["3", "17"];

/** A survey of 20 sites of which some are written up, in a book of its own. */
async function surveyed(book, written) {
  const send = async (method, what, body) => {
    const response = await fetch(`${book.base}/api/${what}`, {
      method,
      headers: { "content-type": "application/json" },
      body: JSON.stringify(body),
    });
    assert.ok(response.ok, `${what}: ${response.status} ${await response.clone().text()}`);
    return response.json();
  };
  const plan = await send("POST", "plan", { survey: SURVEY, layout: "balanced", sites: 20, max_depth_m: 4 });
  for (const code of written) {
    const visit = { time: null, depth_m: 2, throws: [{ number: 1, observations: [] }], observer: "T. Kay", note: "" };
    await send("PUT", `surveys/${SURVEY}/visits/${code}`, { by: "T. Kay", base_version: null, visit });
  }
  return plan;
}

/** A boat five metres north of each site but two, four minutes long, from 8:30 in the lake's summer (UTC-5). */
function gpx(plan, year) {
  let minute = 0;
  const clock = (at) => new Date(Date.UTC(year, 6, 14, 13, 30 + at)).toISOString().replace(".000", "");
  const parts = plan.sites
    .filter((site) => !MISSED.includes(site.code))
    .map((site) => {
      // a degree of latitude is 111.1 km here (WGS 84)
      const lat = site.lat + 5 / 111_100;
      const points = [0, 1, 2, 3, 4].map((step) => `<trkpt lat="${lat}" lon="${site.lon}"><time>${clock(minute + step)}</time></trkpt>`);
      minute += 6;
      return `<trkseg>${points.join("")}</trkseg>`;
    });
  return `<gpx version="1.1" creator="test" xmlns="http://www.topografix.com/GPX/1/1"><trk>${parts.join("")}</trk></gpx>`;
}

const named = (name, text) => ({ name, mimeType: "application/gpx+xml", buffer: Buffer.from(text) });

test("a track shows where the boat was, how long, what it missed; its positions go into the record", async () => {
  const book = await ownBook();
  try {
    const plan = await surveyed(book, ["1", "2"]);
    const { page, troubles, close } = await open(browser, `/plan?step=day&survey=${SURVEY}`, { base: book.base });
    await page.waitForSelector("#day-table");
    await busy(page);
    const input = page.getByLabel(/The track of the day/);
    await input.setInputFiles(named("other-year.gpx", gpx(plan, 2024)));
    await page.locator(".track [role=alert]").waitFor();
    const refused = await page.textContent(".track [role=alert]");
    assert.match(refused, /2024/);
    assert.match(refused, /2031/);
    troubles.length = 0;

    await input.setInputFiles(named("day.gpx", gpx(plan, 2031)));
    await page.waitForSelector("#track-table");
    const told = await page.textContent(".track .told");
    assert.match(told, /The boat was at 18 sites of 20, out from 08:30 to /);
    assert.match(told, /Two sites missed: 3 and 17\./);
    assert.match(told, /within 16\s?ft of the plan/);
    const rows = await page.locator("#track-table tbody tr").evaluateAll((all) =>
      all.map((row) => [row.dataset.row, row.textContent]),
    );
    assert.equal(rows.length, 20);
    // what is left to do stands on top
    assert.deepEqual(rows.slice(0, 2).map(([code]) => code).sort(), MISSED.toSorted());
    assert.ok(rows.slice(2).every(([, text]) => /\d\d:\d\d/.test(text) && /4\s?min/.test(text)), JSON.stringify(rows));
    assert.match(await page.textContent(".map"), /where the boat was/);
    assert.match(await page.textContent(".map"), /missed/);
    // nothing is written before it is asked for
    const log = async () => JSON.stringify(await (await fetch(`${book.base}/api/surveys/${SURVEY}/history`)).json());
    assert.doesNotMatch(await log(), /from a track/);
    await picture(page, "plan-day-track");
    await page.getByLabel("Who says so?").last().fill("A. Tester");
    await page.getByRole("button", { name: "Write two positions into the record" }).focus();
    await page.keyboard.press("Enter");
    await page.getByText("Two visits got the boat's position.").waitFor();
    assert.match(await log(), /positions of 2 visits of 2031-track from a track/);
    assert.match(await log(), /A\. Tester/);
    await page.getByRole("button", { name: "Back to the plan" }).click();
    await input.waitFor();
    assert.doesNotMatch(await page.textContent(".map"), /where the boat was/);
    assert.deepEqual(troubles, []);
    await close();
  } finally {
    book.close();
  }
});

test("the kit list is ticked, added to and shortened; the book keeps it, the paper prints it", async () => {
  const book = await ownBook();
  try {
    const { page, troubles, close } = await open(browser, "/plan?step=day", { base: book.base });
    await page.waitForSelector("#day-table");
    await busy(page);
    const kept = async () => (await (await fetch(`${book.base}/api/kit`)).json()).text;
    const until = (words) => page.locator(".kit").getByText(words).waitFor();
    await page.locator(".kit summary").focus();
    await page.keyboard.press("Enter");
    const safety = page.getByRole("group", { name: "Safety" });
    await safety.getByLabel("Another thing, Safety").fill("# Horn & <flare>");
    await page.keyboard.press("Enter");
    await until("Horn & <flare> is on the list.");
    const trays = page.getByRole("checkbox", { name: "White tray or tub to sort in" });
    await trays.focus();
    await page.keyboard.press("Space");
    await until("White tray or tub to sort in stays ashore.");
    assert.equal(await trays.isChecked(), false);
    await page.getByRole("button", { name: "Take off the list: Water and food" }).click();
    await until("Water and food is off the list.");
    let text = await kept();
    assert.match(text, /^Horn & <flare>$/m);
    assert.match(text, /^~ White tray or tub to sort in$/m);
    assert.doesNotMatch(text, /Water and food/);
    assert.match(text, /^# Safety$/m);
    // each size and each theme once
    for (const [size, theme] of [[DESK, THEMES[0]], [PHONE, THEMES.at(-1)]]) {
      const look = await open(browser, "/plan?step=day", { base: book.base, size, theme });
      await look.page.waitForSelector("#day-table");
      await busy(look.page);
      await look.page.locator(".kit summary").click();
      await look.page.getByText("Horn & <flare>").waitFor();
      assert.deepEqual(await violations(look.page), [], `${size.width} ${theme}`);
      assert.equal(await overflow(look.page), "", `${size.width} ${theme}`);
      await look.page.locator(".kit summary").scrollIntoViewIfNeeded();
      await picture(look.page, `plan-day-kit-${size.width}-${theme}`);
      await look.close();
    }
    // the page again: what was kept is there
    await page.reload();
    await page.waitForSelector("#day-table");
    await page.locator(".kit summary").click();
    assert.equal(await trays.isChecked(), false);
    await page.getByRole("button", { name: "The usual list again" }).click();
    await until("The usual list again.");
    text = await kept();
    assert.match(text, /Water and food/);
    assert.doesNotMatch(text, /Horn/);
    assert.deepEqual(troubles, []);
    await close();
  } finally {
    book.close();
  }
});
