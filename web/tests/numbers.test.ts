import { describe, expect, it } from "vitest";
import {
  brief,
  counted,
  fixed,
  hundredthsRange,
  inWords,
  listed,
  percent,
  points,
  round,
} from "../src/words/numbers";

describe("numbers as they are written", () => {
  it.each([
    // half away from zero, common practice of agencies; 1.005 is a binary 1.00499999999999989…
    [0.5, 0, 1],
    [-0.5, 0, -1],
    [2.5, 0, 3],
    [1.005, 2, 1.01],
    [-12.5, 0, -13],
    [0.049, 1, 0],
    [-0.04, 1, 0],
  ])("%f to %i digits rounds half away from zero to %f", (value, digits, expected) => {
    expect(round(value, digits)).toBe(expected);
  });

  it("a negative zero is written without a sign", () => {
    expect(fixed(-0.04, 1)).toBe("0.0");
    expect(points(-0.004)).toBe("0");
  });

  it("a difference carries a true minus or a plus", () => {
    expect(points(-0.56)).toBe("\u221256");
    expect(points(0.1)).toBe("+10");
    expect(points(0)).toBe("0");
  });

  it("a percentage has a narrow no-break space, a range an en dash", () => {
    expect(percent(18 / 89)).toBe("20\u202f%");
    expect(hundredthsRange(0.132, 0.297)).toBe("13–30");
  });

  it("thousands are parted and whole numbers stay whole", () => {
    expect(fixed(50262)).toBe("50,262");
    expect(brief(15)).toBe("15");
    expect(brief(14.5)).toBe("14.5");
    expect(brief(14.96)).toBe("15");
  });

  it("small counts are words", () => {
    expect(inWords(0)).toBe("zero");
    expect(counted(0, "site")).toBe("no sites");
    expect(counted(1, "site")).toBe("one site");
    expect(counted(11, "site")).toBe("11 sites");
    expect(listed(["a", "b", "c"])).toBe("a, b and c");
  });
});
