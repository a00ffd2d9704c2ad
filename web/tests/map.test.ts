import { describe, expect, it } from "vitest";
import { all } from "../fixtures/surveys.mjs";
import type { MapView } from "../src/api/contract";
import { parse } from "../src/api/shape";
import { discScale, FLOOR, medianSpacing, ratingRadius } from "../src/map/discs";
import { readArea } from "../src/map/geometry";
import { corners, stand, waterShare } from "../src/map/lettering";
import { codeBoxes } from "../src/map/letters";
import { fullness, siteMarks } from "../src/map/marks";
import { depthColour } from "../src/map/palette";
import { path, scale, ticks } from "../src/plot/axis";
import { strip } from "../src/plot/strip";

const sites = parse("SurveySitesView", all["July 2026"]);
const square = readArea({
  type: "Polygon",
  coordinates: [
    [
      [0, 0],
      [100, 0],
      [100, 100],
      [0, 100],
      [0, 0],
    ],
  ],
});

describe("signs of sites", () => {
  it("area of discs rises evenly with the step, whatever the number of steps", () => {
    for (const steps of [3, 5, 6]) {
      const areas = Array.from({ length: steps }, (_, i) => ratingRadius(i + 1, steps) ** 2);
      const rises = areas.slice(1).map((area, i) => area - (areas[i] ?? 0));
      for (const rise of rises) expect(rise).toBeCloseTo(rises[0] ?? 0, 9);
    }
  });
  it("found, looked for and not reached stay three things; nobody went is a fourth, and is not drawn", () => {
    const first = sites.sites[0];
    if (!first) throw new Error("the fixture has sites");
    const one = (change: Partial<typeof first>) =>
      siteMarks({ ...sites, sites: [{ ...first, ...change }] }, "CEDE").map((mark) => mark.kind);
    const found = [{ code: "CEDE", rating: "S", value: 2, rank: 2, seen: "rake" }];
    const seen = [{ code: "CEDE", rating: null, value: null, rank: null, seen: "visual" }];
    expect(one({ outcome: "sampled-with-plants", taxa: found })).toEqual(["found"]);
    expect(one({ outcome: "sampled-with-plants", taxa: seen })).toEqual(["seen"]);
    expect(one({ outcome: "sampled-without-plants", taxa: [] })).toEqual(["not-found"]);
    expect(one({ outcome: "too-deep", taxa: [] })).toEqual(["not-reached"]);
    expect(one({ outcome: null, taxa: [] })).toEqual([]);
    expect(one({ outcome: "sampled-with-plants", x: null })).toEqual([]);
  });
  it("fullness of the rake counts every sampled site once", () => {
    const sampled = sites.sites.filter((site) => site.outcome?.startsWith("sampled-")).length;
    expect(fullness(sites).reduce((sum, row) => sum + row.sites, 0)).toBe(sampled);
  });
  it("a crowded map shrinks its discs, no further than can be seen", () => {
    const grid = Array.from({ length: 25 }, (_, i): [number, number] => [
      (i % 5) * 30,
      Math.floor(i / 5) * 30,
    ]);
    expect(medianSpacing(grid)).toBe(30);
    expect(discScale(16.5)).toBe(1);
    expect(discScale(1)).toBeCloseTo(0.3);
    expect(FLOOR).toBe(1.6);
  });
});

describe("lettering", () => {
  it("knows how much of a box is water", () => {
    if (!square) throw new Error("a square is an area");
    expect(waterShare(square, [10, 10, 90, 90])).toBe(1);
    expect(waterShare(square, [200, 200, 290, 290])).toBe(0);
  });
  it("a word beside the eastern shore stands east of it, on land", () => {
    if (!square) throw new Error("a square is an area");
    const where = stand(
      [100, 50],
      { width: 60, height: 16 },
      1,
      square,
      [-200, -200, 300, 300],
      [],
    );
    expect(where.align).toBe("left");
    expect(waterShare(square, where.box)).toBe(0);
  });
  it("a word stands further off a wider mark", () => {
    if (!square) throw new Error("a square is an area");
    const beside = (further: number) =>
      stand([100, 50], { width: 60, height: 16 }, 1, square, [-200, -200, 300, 300], [], further);
    expect(beside(3).dx).toBe(beside(0).dx + 3);
    expect(beside(3).box[0]).toBe(beside(0).box[0] + 3);
  });
  it("names keep off the codes of zones and the numbers of the chosen one's parts", () => {
    const shape = { geometry: null, name: "", protection: "none", zone: null };
    const view = {
      zones: [
        { ...shape, code: "N1", label: [0, 0] },
        { ...shape, code: "N2", label: [90, 0] },
      ],
      sub_areas: [
        { ...shape, code: "N2-1", label: [95, 5], zone: "N2" },
        { ...shape, code: "N1-1", label: [5, 5], zone: "N1" },
      ],
      deepest: [50, 50, 11],
    } as unknown as MapView;
    const boxes = codeBoxes({ view, chosen: "N2", resolution: 1 }, 1);
    const over = (x: number, y: number) =>
      boxes.filter(([w, s, e, n]) => w < x && x < e && s < y && y < n).length;
    expect([over(0, 0), over(90, 0), over(95, 5), over(50, 50)]).toEqual([1, 1, 1, 1]);
    expect(boxes).toHaveLength(3);
  });
  it("the block goes to a corner without water", () => {
    if (!square) throw new Error("a square is an area");
    const best = corners(square, [-10, -10, 200, 105], { width: 60, height: 60 }, 1)[0];
    expect(best?.corner).toMatch(/east$/);
    expect(best?.share).toBe(0);
  });
  it("a geometry that is none is refused, not thrown", () => {
    expect(readArea(null)).toBeNull();
    expect(readArea({ type: "Nonsense" })).toBeNull();
    expect(readArea({ type: "Point", coordinates: [1, 2] })).toBeNull();
  });
});

describe("plots", () => {
  it.each([
    [36, 4, [0, 10, 20, 30]],
    [1, 5, [0, 0.2, 0.4, 0.6, 0.8, 1]],
    [0.3, 3, [0, 0.1, 0.2, 0.3]],
    [0, 3, [0]],
  ])("ticks up to %f, about %i of them", (most, about, expected) => {
    expect(ticks(most, about)).toEqual(expected);
  });
  it("a scale is a straight line and a path starts with a move", () => {
    expect(scale([0, 10], [100, 200])(2.5)).toBe(125);
    expect(
      path([
        [0, 0],
        [1, 2],
      ]),
    ).toBe("M0.0 0.0L1.0 2.0");
  });
  it("light is shallow, with as many steps as bands", () => {
    expect(depthColour(0, 7, false)).toBe("#DEEBF7");
    expect(depthColour(6, 7, false)).toBe("#08519C");
    expect(depthColour(2, 3, false)).toBe("#08519C");
    expect(depthColour(13, 14, false)).toBe("#08519C");
  });
  it("the strip stacks a few sites as dots and many as bars", () => {
    const marks = siteMarks(sites, "CEDE");
    const x = (depth: number) => depth * 70;
    const room = { above: 72, below: 34 };
    const few = strip(marks.slice(0, 20), 0.1524, x, room);
    expect(few.kind).toBe("dots");
    const many = strip(Array.from({ length: 30 }, () => marks).flat(), 0.1524, x, room);
    expect(many.kind).toBe("bars");
    if (many.kind !== "bars") return;
    const drawn = many.bars.reduce((sum, bar) => sum + bar.found + bar.notFound, 0);
    expect(drawn).toBe(
      30 * marks.filter((mark) => mark.kind !== "not-reached" && mark.depth_m !== null).length,
    );
  });
});
