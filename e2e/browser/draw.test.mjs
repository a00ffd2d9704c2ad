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
import {
  accentAt,
  areaOf,
  boxAt,
  button,
  far,
  hand,
  keep,
  near,
  openWater,
  ring,
  ringOf,
  told,
  tool,
  typed,
  undo,
  zoneForm,
} from "./drawing.mjs";

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

test("a zone drawn beside another shares its edge to the last digit, and what it snaps to is seen", async () => {
  const before = await drawing();
  const { page, troubles, close } = await at("/draw");
  await page.getByText("of water in").waitFor();
  const { seen, place, scale } = await hand(page, before);
  const water = openWater(before, 40 * scale);
  const [x, y] = seen(water.at);
  const r = Math.min(46, (water.room / scale - 16) / 2.3);
  await tool(page, "Zone");
  await ring(page, [
    [x - 2 * r + 4, y - r],
    [x, y - r],
    [x, y + r],
    [x - 2 * r + 4, y + r],
  ]);
  await zoneForm(page, "A1");
  await keep(page);
  await told(page, /drew zone A1/i);
  const first = areaOf(await drawing(), "A1");
  const [top, low] = [
    [x, y - r],
    [x, y + r],
  ].map((spot) => ringOf(first).find((at) => far(at, place(...spot)) < 2 * scale));
  // 6 px off its upper corner, 5 px off its edge half way down, 7 px off its lower corner
  const corners = [
    [x + 6, y - r + 2],
    [x + 2 * r - 4, y - r],
    [x + 2 * r - 4, y + r],
    [x - 5, y + r + 4],
    [x + 5, y + 3],
  ];
  await page.mouse.move(...corners[0]);
  await settled(page);
  // what it snaps to is written over the corner
  const [cx, cy] = seen(top);
  const sign = await accentAt(page, [cx, cy - 22]);
  assert.ok(sign > 20, `${sign} accent pixels over the corner`);
  await picture(page, "draw-snap");
  // with the key held nothing snaps: the mark stays off
  await page.keyboard.down("Control");
  await page.mouse.move(corners[0][0] + 1, corners[0][1]);
  await settled(page);
  assert.equal(await accentAt(page, [cx, cy - 22]), 0, "the sign is gone while Ctrl is held");
  await page.keyboard.up("Control");
  await ring(page, corners);
  await zoneForm(page, "A2");
  await keep(page);
  await told(page, /drew zone A2/i);
  const after = await drawing();
  const [one, two] = [areaOf(after, "A1"), areaOf(after, "A2")].map(ringOf);
  const shared = two.filter((at) => one.some((other) => other[0] === at[0] && other[1] === at[1]));
  assert.equal(shared.length, 3, JSON.stringify({ one, two }));
  for (const corner of [top, low]) {
    assert.ok(shared.some((at) => at[0] === corner[0] && at[1] === corner[1]), "not moved by it");
  }
  const flagged = after.flags.filter((flag) => flag.codes.some((code) => /^A[12]$/.test(code)));
  assert.deepEqual(flagged, []);
  // the key held: a corner 6 px beside the old one stays where it was put
  await page.keyboard.down("Control");
  await ring(page, [
    [x + 6, y - r - 6],
    [x + 2 * r, y - r - 6],
    [x + 2 * r, y - r - 20],
  ]);
  await page.keyboard.up("Control");
  await zoneForm(page, "A3");
  await keep(page);
  await told(page, /drew zone A3/i);
  const free = ringOf(areaOf(await drawing(), "A3"));
  assert.ok(
    free.every((at) => [...one, ...two].every((other) => far(at, other) > 3 * scale)),
    JSON.stringify(free),
  );
  await undo(page);
  // reading the canvas is this test's own doing
  assert.deepEqual(troubles.filter((one) => !one.includes("willReadFrequently")), []);
  await close();
});

test("a corner that zones share moves in all of them, with both acreages live, and back in one step", async () => {
  const before = await drawing();
  const lakeBefore = await (await fetch(`${own.base}/api/lake`)).json();
  const { page, troubles, close } = await at("/draw");
  await page.getByText("of water in").waitFor();
  const { seen } = await hand(page, before);
  const [one, two] = [areaOf(before, "A1"), areaOf(before, "A2")];
  const shared = ringOf(one).filter((at) => ringOf(two).some((other) => far(at, other) === 0));
  const [from] = shared.sort((a, b) => b[1] - a[1]).slice(0, 1);
  await tool(page, "Move a corner");
  const [x, y] = seen(from);
  await page.mouse.move(x, y);
  await page.mouse.down();
  await page.mouse.move(x + 8, y - 4);
  await page.mouse.move(x + 22, y - 6, { steps: 4 });
  const live = page.locator(".acres");
  await live.getByText(/A1.*was/).waitFor();
  const text = await live.textContent();
  assert.match(text, /A1 [\d.]+.ac, was [\d.]+.ac/);
  assert.match(text, /A2 [\d.]+.ac, was [\d.]+.ac/);
  await picture(page, "draw-corner");
  await page.mouse.up();
  await told(page, /moved a corner of A1, A2/i);
  const after = await drawing();
  const [a, b] = [areaOf(after, "A1"), areaOf(after, "A2")];
  for (const [code, kept] of [["A1", a], ["A2", b]]) {
    const said = Number(new RegExp(`${code} ([\\d.]+)`).exec(text)[1]);
    near(said, kept.area_m2 / 4046.8564224, 0.051, `acres of ${code} as told`);
  }
  assert.notEqual(a.area_m2, one.area_m2);
  const together = shared.length;
  assert.equal(
    ringOf(a).filter((at) => ringOf(b).some((other) => other[0] === at[0] && other[1] === at[1])).length,
    together,
  );
  assert.deepEqual(after.flags, before.flags);
  const lakeAfter = await (await fetch(`${own.base}/api/lake`)).json();
  assert.equal(lakeAfter.area_m2, lakeBefore.area_m2);
  await undo(page);
  const back = await drawing();
  assert.deepEqual([areaOf(back, "A1").geometry, areaOf(back, "A2").geometry], [one.geometry, two.geometry]);
  assert.deepEqual(troubles, []);
  await close();
});

test("by keyboard a corner shared with sub-areas moves in all, told before it is kept", async () => {
  const before = await drawing();
  // a corner inside the lake that two zones and a sub-area have
  const zones = before.areas.filter((one) => one.kind === "zone" && !/^[AQ]/.test(one.code));
  const parts = before.areas.filter((one) => one.kind === "sub-area");
  const has = (area, at) => area.geometry.coordinates.flat(2).some((other) => far(other, at) < 0.01);
  const shore = before.outline.coordinates.flat(2);
  const found = zones.flatMap((zone) =>
    ringOf(zone)
      .filter((at) => zones.filter((other) => has(other, at)).length > 1)
      .filter((at) => parts.some((part) => has(part, at)) && !shore.some((other) => far(other, at) < 5))
      .map((at) => ({ zone, at })),
  );
  assert.ok(found.length > 0, "the demo has no such corner");
  const [{ zone, at: from }] = found;
  const holders = before.areas.filter((one) => has(one, from)).map((one) => one.code);
  const { page, close } = await at("/draw");
  await page.getByText("of water in").waitFor();
  await page.getByRole("radio", { name: zone.code, exact: true }).check();
  await tool(page, "Move a corner");
  await page.getByLabel("Corner", { exact: true }).fill(from.map((n) => n.toFixed(2)).join(", "));
  await page
    .getByLabel("moves to")
    .fill([from[0] + 1.5, from[1] + 0.5].map((n) => n.toFixed(2)).join(", "));
  await page.locator(".acres").getByText(zone.code, { exact: true }).waitFor();
  assert.match(await page.locator(".acres").textContent(), /sub-areas? with it/);
  await button(page, "Move it").focus();
  await page.keyboard.press("Enter");
  await told(page, /moved a corner/i);
  const after = await drawing();
  const to = [from[0] + 1.5, from[1] + 0.5];
  const follow = after.areas.filter((one) =>
    one.geometry.coordinates.flat(2).some((other) => far(other, to) < 0.02),
  );
  assert.deepEqual(follow.map((one) => one.code).sort(), holders.sort());
  await page.keyboard.press("Escape");
  await undo(page);
  const shapes = (view) => view.areas.map((one) => [one.code, one.geometry]);
  assert.deepEqual(shapes(await drawing()), shapes(before));
  await close();
});

const lakeNow = async (query = "") => (await fetch(`${own.base}/api/lake${query}`)).json();

test("a zone is parted by a line; the parts add to the whole, and earlier surveys keep it", async () => {
  const before = await drawing();
  const whole = areaOf(before, "A2");
  const { page, troubles, close } = await at("/draw");
  await page.getByText("of water in").waitFor();
  await page.getByRole("radio", { name: "A2", exact: true }).check();
  await tool(page, "Split");
  await page.getByText(/Surveys up to 2026 keep A2 whole/).waitFor();
  const { seen, click } = await hand(page, before);
  const across = ringOf(whole).map((at) => seen(at));
  const [left, right] = [Math.min, Math.max].map((most) => most(...across.map(([x]) => x)));
  const middle = across.reduce((sum, [, y]) => sum + y, 0) / across.length + 7;
  await page.keyboard.down("Control");
  await click(left - 18, middle);
  await page.waitForTimeout(280);
  await page.mouse.move(right + 18, middle);
  await page.mouse.dblclick(right + 18, middle);
  await page.keyboard.up("Control");
  await keep(page);
  await told(page, /split A2 into A2a, A2b/i);
  const after = await drawing();
  const parts = ["A2a", "A2b"].map((code) => areaOf(after, code));
  near((parts[0].area_m2 + parts[1].area_m2) / whole.area_m2, 1, 1e-6, "the parts of the whole");
  assert.deepEqual(parts.map((one) => one.since), [2027, 2027]);
  assert.equal(areaOf(after, "A2"), undefined);
  const codes = ({ zones }) => zones.map((zone) => zone.code).filter((code) => code.startsWith("A2"));
  assert.deepEqual(codes(await lakeNow("?year=2026")), ["A2"]);
  assert.deepEqual(codes(await lakeNow()).sort(), ["A2a", "A2b"]);
  await picture(page, "draw-split");
  await undo(page);
  assert.deepEqual(areaOf(await drawing(), "A2").geometry, whole.geometry);
  assert.deepEqual(troubles, []);
  await close();
});

test("a zone is deleted, for the surveys to come or for all, and comes back", async () => {
  const { page, close } = await at("/draw");
  await page.getByText("of water in").waitFor();
  const has = async (query) => (await lakeNow(query)).zones.some((zone) => zone.code === "A1");
  await page.getByRole("radio", { name: "A1", exact: true }).check();
  await button(page, "Delete A1").click();
  await told(page, /deleted zone A1; surveys up to 2026 keep it/i);
  assert.deepEqual([await has(""), await has("?year=2026")], [false, true]);
  await undo(page);
  assert.equal(await has(""), true);
  await page.getByRole("radio", { name: "A1", exact: true }).check();
  await page.getByLabel("delete it from surveys up to 2026 too").check();
  await button(page, "Delete A1").focus();
  await page.keyboard.press("Enter");
  await told(page, /deleted zone A1$|deleted zone A1\./i);
  assert.deepEqual([await has(""), await has("?year=2026")], [false, false]);
  await page.keyboard.press("Control+z");
  await told(page, /taken back/i);
  assert.equal(await has(""), true);
  await close();
});

test("by keyboard an island is cut out, one on it joined, one over the shore refused, and filled again", async () => {
  const before = await drawing();
  const { area_m2: whole } = await lakeNow();
  const { page, close } = await at("/draw");
  await page.getByText("of water in").waitFor();
  const { at: spot } = openWater(before, 30);
  await page.getByRole("radio", { name: "Choose", exact: true }).focus();
  for (let step = 0; step < 2; step++) await page.keyboard.press("ArrowRight");
  assert.ok(await page.getByRole("radio", { name: "Island", exact: true }).isChecked());
  await typed(page, boxAt(spot, 10));
  await button(page, "Keep it").focus();
  await page.keyboard.press("Enter");
  await told(page, /drew an island/i);
  // 20 m by 20 m of the plane, whose scale is 0.9996 to 1.0004 in a UTM zone
  near(whole - (await lakeNow()).area_m2, 400, 0.5, "the water the island took");
  // half over it: 300 m² more
  await typed(page, boxAt([spot[0] + 10, spot[1]], 10, 15));
  await keep(page);
  await told(page, /joined to the one it lies on/i);
  near(whole - (await lakeNow()).area_m2, 800, 1, "the water both took");
  const count = (await lakeNow()).island_count;
  await picture(page, "draw-island");
  await typed(page, boxAt(before.outline.coordinates[0][0][0], 20));
  await keep(page);
  await page.getByRole("alert").getByText(/reaches over the shore, by/).waitFor();
  await page.keyboard.press("Escape");
  await button(page, `delete island ${count}`).focus();
  await page.keyboard.press("Enter");
  await told(page, /took an island away/i);
  assert.equal((await lakeNow()).area_m2, whole);
  await close();
});

test("a launch is placed, renamed, moved and deleted; a zone's rule is told on the lake page", async () => {
  const before = await drawing();
  const { page, troubles, close } = await at("/draw");
  await page.getByText("of water in").waitFor();
  await tool(page, "Place");
  const { box, click, place, scale } = await hand(page, before);
  const spot = [box.x + 60, box.y + 60];
  // on land, and where it is put, whatever is near
  await page.keyboard.down("Control");
  await click(...spot);
  await page.keyboard.up("Control");
  await page.getByLabel("Name").fill("Scout dock");
  await page.getByLabel("Kind").selectOption("launch");
  await keep(page);
  await told(page, /put launch Scout dock on the map/i);
  const onMap = async (name) =>
    (await (await fetch(`${own.base}/api/map`)).json()).landmarks.find((one) => one.name === name);
  const first = await onMap("Scout dock");
  assert.equal(first.kind, "launch");
  near(far([first.x, first.y], place(...spot)), 0, 3 * scale, "where it was put");
  await button(page, "change Scout dock").focus();
  await page.keyboard.press("Enter");
  await page.getByText(/Click where it goes/).waitFor();
  await page.keyboard.down("Control");
  await click(spot[0] + 50, spot[1] + 10);
  await page.keyboard.up("Control");
  await keep(page);
  await told(page, /moved launch Scout dock/i);
  const moved = await onMap("Scout dock");
  near(moved.x - first.x, 50 * scale, 2 * scale, "metres it moved east");
  await button(page, "change Scout dock").click();
  await page.getByText(/Click where it goes/).waitFor();
  await page.getByLabel("Name").fill("Scout pier");
  await page.getByLabel("Kind").selectOption("hazard");
  await keep(page);
  await told(page, /renamed Scout dock/i);
  assert.equal((await onMap("Scout pier")).kind, "hazard");
  await picture(page, "draw-places");
  await button(page, "delete Scout pier").click();
  await told(page, /took Scout pier off the map/i);
  assert.equal(await onMap("Scout pier"), undefined);
  await undo(page);
  assert.ok(await onMap("Scout pier"));
  assert.deepEqual(troubles, []);
  await page.goto(`${own.base}/lake`);
  await page.getByText("no wake").first().waitFor();
  await close();
});

test("a gap and a zone over the shore are told with acres, and each can be gone to", async () => {
  const before = await drawing();
  const { page, close } = await at("/draw");
  await page.getByText("of water in").waitFor();
  await tool(page, "Zone");
  const { at: [x, y] } = openWater(before, 40);
  const zone = async (code, corners) => {
    await typed(page, corners);
    await zoneForm(page, code);
    await keep(page);
    await told(page, new RegExp(`drew zone ${code}`, "i"));
  };
  const edge = [-20, -10, 10, 20].map((dy) => [x, y + dy]);
  await zone("G1", [[x - 30, y - 20], ...edge, [x - 30, y + 20]]);
  // the edge between is shared but for its middle: 8 m by 20 m, half of it, is 80 m²
  const bowed = [edge[3], edge[2], [x + 8, y], edge[1], edge[0]];
  await zone("G2", [...bowed, [x + 30, y - 20], [x + 30, y + 20]]);
  const notes = page.getByRole("complementary");
  await notes.getByText(/leave a gap between them of 86\d.sq.ft/).waitFor();
  const gap = (await drawing()).flags.find((flag) => flag.kind === "gap");
  near(gap.area_m2, 80, 0.3, "the gap");
  const [sx, sy] = before.outline.coordinates[0][0][0];
  await zone("G3", boxAt([sx, sy], 12));
  await notes.getByText(/reaches out of the lake by [\d,.]+.(ac|sq.ft)/).waitFor();
  const { flags } = await drawing();
  const number = flags.findIndex((flag) => flag.kind === "gap") + 1;
  const show = notes.getByRole("button", { name: `show note ${number} on the map` });
  await show.focus();
  await page.keyboard.press("Enter");
  await settled(page);
  const box = await page.locator(".board [role=application]").boundingBox();
  const middle = [box.x + box.width / 2, box.y + box.height / 2];
  assert.ok((await accentAt(page, middle)) > 60, "its number stands in the middle of the map");
  await picture(page, "draw-flags");
  for (let step = 0; step < 3; step++) await undo(page);
  await close();
});

test("a change made from an older drawing is refused, nothing begun is lost, and it is kept after a look", async () => {
  const before = await drawing();
  const { page, close } = await at("/draw");
  await page.getByText("of water in").waitFor();
  await tool(page, "Zone");
  const { at: spot } = openWater(before, 30);
  await typed(page, boxAt(spot, 12));
  await zoneForm(page, "C1");
  await page.getByLabel("Name").fill("Quick hands");
  const [px, py] = before.landmarks[0].at;
  const other = await fetch(`${own.base}/api/draw/landmarks`, {
    method: "POST",
    headers: { "content-type": "application/json" },
    body: JSON.stringify({ name: "buoy", kind: "hazard", at: [px + 40, py] }),
  });
  assert.equal(other.status, 200);
  await keep(page);
  await page
    .getByRole("alert")
    .getByText(/The drawing was changed elsewhere meanwhile: put hazard buoy on the map/)
    .waitFor();
  await button(page, "delete buoy").waitFor();
  assert.equal(await page.getByLabel("Code", { exact: true }).inputValue(), "C1");
  assert.equal(await page.getByLabel("Name").inputValue(), "Quick hands");
  assert.equal((await page.getByLabel(/Latitude, longitude/).inputValue()).split("\n").length, 4);
  assert.equal(areaOf(await drawing(), "C1"), undefined);
  await picture(page, "draw-conflict");
  await keep(page);
  await told(page, /drew zone C1/i);
  assert.equal(areaOf(await drawing(), "C1").name, "Quick hands");
  // and a save that somebody else made is not taken back unseen
  await fetch(`${own.base}/api/draw/landmarks`, {
    method: "POST",
    headers: { "content-type": "application/json" },
    body: JSON.stringify({ name: "buoy 2", kind: "hazard", at: [px + 60, py] }),
  });
  await button(page, "Undo").click();
  await page.getByRole("alert").getByText(/changed elsewhere/i).waitFor();
  assert.ok((await drawing()).landmarks.some((one) => one.name === "buoy 2"));
  await close();
});

test("a littoral zone worked out on the Lake page becomes the book's own, and undo gives the old one back", async () => {
  const was = (await lakeNow()).littoral;
  const { page, troubles, close } = await at("/lake?min_depth_m=0&max_depth_m=3.048");
  await page.getByRole("button", { name: "Keep this littoral zone in the book" }).click();
  await page.waitForFunction(() => !document.querySelector(".holds"));
  const kept = (await lakeNow()).littoral;
  assert.deepEqual([kept.min_depth_m, kept.max_depth_m, kept.limit], [0, 3.048, "depth-range"]);
  assert.match(await page.textContent(".answer"), /shallower than 10.ft/);
  await page.goto(`${own.base}/draw`);
  await page.getByText(/littoral zone is the water from 0\.0.ft to 10\.0.ft deep/).waitFor();
  await Promise.all([page.waitForResponse(/draw\/undo/), button(page, "Undo").click()]);
  assert.equal((await lakeNow()).littoral.area_m2, was.area_m2);
  assert.deepEqual(troubles, []);
  await close();
});

test("a lake without shore or map begins from corners typed in degrees, then zones by its whole water", async () => {
  const bare = await bareBook();
  try {
    const { page, close } = await open(browser, "/draw", { base: bare.base, size: PHONE });
    await typed(page, [
      [45, -91.2],
      [45, -91.19293],
      [45.005, -91.19293],
      [45.005, -91.2],
    ]);
    await keep(page);
    await page.getByText("of water in").waitFor();
    // GeographicLib through pyproj's Geod("WGS84").polygon_area_perimeter gives 309,737 m²
    const { area_m2 } = await (await fetch(`${bare.base}/api/lake`)).json();
    near(area_m2 / 309_737, 1, 1e-4, "the area of the quadrangle");
    await tool(page, "Zone");
    await zoneForm(page, "W1");
    await button(page, "The whole lake").click();
    await told(page, /drew zone W1/i);
    assert.equal(await overflow(page), "");
    await picture(page, "draw-new-lake");
    await close();
  } finally {
    bare.close();
  }
});
