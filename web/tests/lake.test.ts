import { describe, expect, it } from "vitest";
import { lake } from "../fixtures/lake.mjs";
import type { AddView, LakeView } from "../src/api/contract";
import { distanceColour } from "../src/map/palette";
import { drawing } from "../src/screens/lake/sketch";
import { unitsOf } from "../src/units/units";
import { choiceOf, choiceWords, inAddress, question, secchiWords } from "../src/words/lakeChoice";
import {
  degrees,
  depthRange,
  distanceRows,
  fetchRows,
  modelRows,
  nearestWords,
} from "../src/words/lakeNumbers";

const US = unitsOf("us");
const plain = (text: string) => text.replaceAll(/[\u00a0\u202f]/g, " ");
const own = lake as unknown as LakeView;

describe("another level, rule or littoral zone", () => {
  it("is read from the address and asked in the same words", () => {
    const address = new URLSearchParams("zone=W3&level_m=-0.6096&rule=frustum&secchi_m=");
    const chosen = choiceOf((name) => address.get(name));
    expect(chosen).toEqual({ level_m: "-0.6096", rule: "frustum" });
    expect(question(chosen)).toBe("level_m=-0.6096&rule=frustum");
    expect(question({})).toBe("");
    expect(inAddress(2 * 0.3048)).toBe("0.6096");
  });

  it("is said in a sentence, and nothing is said of the book's own", () => {
    expect(choiceWords({}, own, "full pool", US)).toBe("");
    const low: LakeView = { ...own, level_m: -0.6096, rule: "frustum" };
    if (!low.littoral) throw new Error("the invented lake has a littoral zone");
    low.littoral = { ...low.littoral, limit: "chosen", min_depth_m: 0.3048, max_depth_m: 3.6576 };
    expect(plain(choiceWords({ level_m: "-0.6096", rule: "frustum" }, low, "full pool", US))).toBe(
      "These figures hold for water 2 ft below full pool, a littoral zone of 1 to 12 ft and volume as the cone formula, layer by layer.",
    );
  });

  it("a limit from Secchi depth tells its source and its spread", () => {
    const littoral = own.littoral;
    if (!littoral) throw new Error("the invented lake has a littoral zone");
    const from: LakeView = {
      ...own,
      littoral: {
        ...littoral,
        limit: "secchi",
        secchi_m: 3.048,
        max_depth_m: 4.26,
        upper_limit_m: 7.02,
        regression: { key: "caffrey-2007", source: "Caffrey, 187 lakes" },
        other_regressions: [
          { key: "canfield-1985", limit_m: 3.59 },
          { key: "chambers-kalff-1985", limit_m: 4.18 },
        ],
      },
    };
    expect(secchiWords(own, US)).toBe("");
    expect(plain(secchiWords(from, US))).toBe(
      "Caffrey, 187 lakes. Plants were seen down to at most 23 ft in water that clear. The other regressions give 11.8 ft by Canfield and others 1985 and 13.7 ft by Chambers and Kalff 1985.",
    );
  });
});

describe("the lake in numbers", () => {
  it("the nearest depth is told in words and by distance", () => {
    const far = own.datum_distance;
    if (!far) throw new Error("the invented lake has depths");
    expect(plain(nearestWords(far, US))).toBe(
      "Half the lake lies within 33 ft of a depth that was measured, 95 parts in 100 within 102 ft. The farthest place is 256 ft from one.",
    );
    const rows = distanceRows(far, US).map((row) => [row.name, row.share].map(plain));
    expect(rows).toEqual([
      ["within 50 ft", "70 %"],
      ["50 to 100 ft", "24 %"],
      ["over 100 ft", "6 %"],
    ]);
    expect(plain(degrees([-86.99, 43.35]))).toBe("43.3500° N, 86.9900° W");
  });

  it("each direction of the wind has one length", () => {
    const rows = fetchRows({ n: 1, ne: 2, e: 3, se: 4 });
    expect(rows.map((row) => row.length_m)).toEqual([1, 2, 3, 4]);
    for (const row of rows) expect(Math.hypot(row.east, row.north)).toBeCloseTo(1, 12);
  });

  it("ranges of depth and the model's error carry their unit", () => {
    expect(plain(depthRange(1.524, 3.048, US))).toBe("5–10 ft");
    expect(plain(depthRange(9.144, null, US))).toBe("over 30 ft");
    const rows = modelRows(
      { ...own, interpolation_not_taken: { method: "natural neighbour", mean_m: 0.5 } },
      US,
    );
    expect(rows.map(([name, value]) => `${name}: ${plain(value)}`)).toContain(
      "natural neighbour instead: off by 1.6 ft",
    );
    expect(rows.map(([name, value]) => `${name}: ${plain(value)}`)).toContain(
      "Off by, on average: 0.59 ft",
    );
  });

  it("the farthest band has the strongest colour, however many bands there are", () => {
    for (const bands of [1, 2, 3, 5]) expect(distanceColour(bands - 1, bands)).toBe("#FD8D3C");
    const five = [0, 1, 2, 3, 4].map((band) => distanceColour(band, 5));
    expect(new Set(five).size).toBe(5);
  });
});

it("a raster is drawn by its edge and its cells, deeper ones darker", () => {
  const file = {
    place: [0, 0, 200, 100],
    extent: null,
    shapes: [
      [
        [0, 0],
        [200, 0],
        [200, 100],
        [0, 100],
        [0, 0],
      ],
    ],
    cells: [
      [50, 50, 1],
      [150, 50, 4],
    ],
    cell_size: [100, 100],
  } as unknown as AddView;
  const drawn = drawing(file, []);
  expect(
    drawn?.cells.map(([x, y, share]) => [Math.round(x) + 0, Math.round(y) + 0, share]),
  ).toEqual([
    [0, 0, 0.25],
    [500, 0, 1],
  ]);
  expect(drawn?.cell[0]).toBeCloseTo(500, -1);
});
