import { describe, expect, it } from "vitest";
import { areaMoved, firstDegrees, polygon, ringArea, same } from "../src/screens/draw/places";
import { csv, leastFor, misfit, type Pin, scanWords } from "../src/screens/draw/scan";
import { isFree, snapTo, snapWords } from "../src/screens/draw/snap";

const pin = (change: Partial<Pin> = {}): Pin => ({
  name: "",
  x: "10.5",
  y: "20",
  latitude: "43.05 N",
  longitude: "89.42 W",
  ...change,
});

describe("drawing", () => {
  it("a ring closes on its first corner and has the area of the surveyor's formula", () => {
    const ring = [
      [0, 0],
      [4, 0],
      [4, 3],
    ] as const;
    expect(polygon(ring)).toEqual({ type: "Polygon", coordinates: [[...ring, [0, 0]]] });
    expect(ringArea(ring)).toBe(6);
  });
  it("where on Earth a lake lies is taken from the first corner in degrees", () => {
    expect(firstDegrees("381000.5, 4939600\n45.005, -91.2")).toEqual([-91.2, 45.005]);
    expect(firstDegrees("381000.5, 4939600")).toBeNull();
  });
  it("what is drawn while the last shape is being kept is another drawing", () => {
    expect(same([[1, 2]], [[1, 2]])).toBe(true);
    expect(same([[1, 2]], [])).toBe(false);
    expect(same([[1, 2]], [[1, 3]])).toBe(false);
    expect(same([], [])).toBe(true);
  });
});

describe("points of a scanned map", () => {
  it("a flat map wants three points, a photo at an angle four, warped paper six", () => {
    expect(["affine", "projective", "thin-plate"].map(leastFor)).toEqual([3, 4, 6]);
  });
  it("points without a name go by their number among all, and quotes stay inside", () => {
    const all = [pin({ name: 'the "old" dam, north' }), pin({ x: "" }), pin()];
    const sent = all.filter((one) => one.x !== "");
    expect(csv(sent, all).split("\n")).toEqual([
      "name,pixel_x,pixel_y,longitude,latitude",
      '"the ""old"" dam, north","10.5","20","89.42 W","43.05 N"',
      '"3","10.5","20","89.42 W","43.05 N"',
    ]);
  });
  it("the point that is refused is found, and the way out named as the page names it", () => {
    expect(misfit("control point 4 `dam` does not fit the others")).toBe(3);
    expect(misfit("the file cannot be read")).toBe(-1);
    expect(scanWords("place it with `--warp projective`.")).toBe("place it as a photo at an angle");
  });
});

describe("snapping", () => {
  const square = [
    [0, 0],
    [10, 0],
    [10, 10],
    [0, 10],
    [0, 0],
  ] as const;
  const beside = [
    [10, 0],
    [20, 0],
    [20, 10],
    [10, 10],
    [10, 0],
  ] as const;
  const rings = [
    { of: "W1", places: square },
    { of: "W2", places: beside },
  ];
  it("a corner wins over an edge, an edge over nothing", () => {
    expect(snapTo(rings, [9.5, 9.2], 1)).toEqual({ at: [10, 10], kind: "corner", of: "W1" });
    expect(snapTo(rings, [5, 10.4], 1)).toEqual({ at: [5, 10], kind: "edge", of: "W1" });
    expect(snapTo(rings, [5, 5], 1)).toBeNull();
  });
  it("what it snaps to is told with all that share it", () => {
    const words = (at: readonly [number, number]) => {
      const found = snapTo(rings, at, 1);
      return found && snapWords(rings, found);
    };
    expect(words([10.2, 9.9])).toBe("corner of W1 and W2");
    expect(words([10.3, 5])).toBe("edge of W1 and W2");
    expect(words([5, 0.3])).toBe("edge of W1");
  });
  it("a corner that is moved does not snap back to itself or its own edges", () => {
    expect(snapTo(rings, [10.2, 9.9], 1, [10, 10])).toBeNull();
    expect(snapTo(rings, [0.2, 5], 1, [10, 10])).toEqual({ at: [0, 5], kind: "edge", of: "W1" });
  });
  it("keys let a place go where it is", () => {
    expect(isFree({ ctrlKey: true, altKey: false })).toBe(true);
    expect(isFree({ ctrlKey: false, altKey: false })).toBe(false);
  });
});

describe("a corner on its way", () => {
  const square = [
    [
      [0, 0],
      [10, 0],
      [10, 10],
      [0, 10],
    ],
  ] as const;
  it("areas that have it change by the triangles beside it, others do not", () => {
    // by hand: the corner 2 m out adds a triangle of 10 · 2 / 2; acreage is of the water, 0.9 of it
    expect(areaMoved([square], 90, [10, 10], [12, 10])).toBeCloseTo(99, 9);
    expect(areaMoved([square], 90, [30, 10], [12, 10])).toBeNull();
  });
  it("a corner drawn out of an edge adds the triangle over that edge", () => {
    expect(areaMoved([square], 100, [10, 4], [13, 4])).toBeCloseTo(115, 9);
  });
  it("islands are left out", () => {
    const hole = [
      [4, 4],
      [6, 4],
      [6, 6],
      [4, 6],
    ] as const;
    expect(areaMoved([[...square, hole]], 96, [4, 4], [5, 4])).toBeCloseTo(97, 9);
  });
});
