import { describe, expect, it } from "vitest";
import { polygon, ringArea, same } from "../src/screens/draw/places";
import { csv, leastFor, misfit, type Pin, scanWords } from "../src/screens/draw/scan";

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
