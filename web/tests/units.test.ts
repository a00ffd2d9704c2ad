import { describe, expect, it } from "vitest";
import {
  CUBIC_METRES_PER_ACRE_FOOT,
  METRES_PER_FOOT,
  SQUARE_METRES_PER_ACRE,
  unitsOf,
} from "../src/units/units";

const us = unitsOf("us");
const metric = unitsOf("metric");

describe("units of a book", () => {
  // NIST Special Publication 811 (2008), appendix B.8: foot 0.3048 m exactly; acre (43,560 square
  // feet) 4.046873 E+03 m² by the survey foot, 4,046.856 m² by the international foot; acre-foot 1,233.48 m³.
  it("the factors are those of the international foot", () => {
    expect(METRES_PER_FOOT).toBe(0.3048);
    expect(SQUARE_METRES_PER_ACRE).toBeCloseTo(4046.8564224, 9);
    expect(CUBIC_METRES_PER_ACRE_FOOT).toBeCloseTo(1233.48183754752, 9);
  });

  it("depths, areas and volumes are spoken in the book's unit", () => {
    expect(us.depth(15 * 0.3048)).toBe("15\u00a0ft");
    expect(us.areaInWords(660_000)).toBe("163 acres");
    expect(us.area(660_000)).toBe("163.1\u00a0ac");
    expect(us.volume(1233.48183754752 * 2127)).toBe("2,127\u00a0ac-ft");
    expect(us.longLength(1609.344 * 2.58)).toBe("2.58\u00a0mi");
    expect(metric.depth(4.572)).toBe("4.6\u00a0m");
    expect(metric.areaInWords(660_000)).toBe("66 hectares");
    expect(metric.volume(2_623_616)).toBe("2.62 million\u00a0m³");
  });

  it("a depth goes there and back", () => {
    for (const units of [us, metric])
      expect(units.depthFrom(units.depthIn(3.7))).toBeCloseTo(3.7, 12);
  });

  it("scale bars get longer one after the other", () => {
    for (const { bars } of [us, metric]) {
      const lengths = bars.map((bar) => bar.metres);
      expect([...lengths].sort((a, b) => a - b)).toEqual(lengths);
    }
  });
});
