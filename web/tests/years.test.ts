import { describe, expect, it } from "vitest";
import type { TrendPointView } from "../src/api/contract";
import {
  band,
  breakPlaces,
  fittedRuns,
  gaps,
  logisticBetween,
  yearPoints,
  yearTicks,
} from "../src/plot/years";

const survey = (year: number | null, change: Partial<TrendPointView> = {}): TrendPointView => ({
  survey: `${year}`,
  date: null,
  year,
  k: 5,
  n: 20,
  p: 0.25,
  low: 0.11,
  high: 0.47,
  stretch: 0,
  fitted: 0.25,
  named_otherwise: 0,
  left_out: "",
  ...change,
});

describe("surveys over the years", () => {
  it("are drawn in order; without a day or a share there is no mark", () => {
    const points = yearPoints([
      survey(2026),
      survey(null),
      survey(2020),
      survey(2023, { p: null }),
    ]);
    expect(points.map((point) => point.year)).toEqual([2020, 2026]);
  });
  it("a year nobody surveyed is a gap, the next summer is none", () => {
    expect(gaps(yearPoints([survey(2020.5), survey(2021.5), survey(2025.5)]))).toEqual([
      { from: 2021.5, to: 2025.5 },
    ]);
  });
  it("the model is never drawn across a break", () => {
    const points = yearPoints([
      survey(2020),
      survey(2021),
      survey(2023, { stretch: 1 }),
      survey(2024, { stretch: 1 }),
      survey(2026, { stretch: 1, fitted: null, left_out: "not looked for" }),
    ]);
    expect(fittedRuns(points).map((run) => run.map((point) => point.year))).toEqual([
      [2020, 2021],
      [2023, 2024],
    ]);
    expect(breakPlaces(points)).toEqual([2022]);
  });
  it("one survey with a share from the model makes no line", () => {
    expect(fittedRuns(yearPoints([survey(2020), survey(2021, { fitted: null })]))).toEqual([]);
  });
  it("the model is straight in log odds: halfway between 0.1 and 0.9 lies one half", () => {
    const line = logisticBetween({ year: 2020, p: 0.1 }, { year: 2022, p: 0.9 }, 4);
    expect(line.map(([year]) => year)).toEqual([2020, 2020.5, 2021, 2021.5, 2022]);
    expect(line[2]?.[1]).toBeCloseTo(0.5, 12);
    // a quarter of the way: log odds of 0.1 is −2.197, half of it −1.099, share 0.25
    expect(line[1]?.[1]).toBeCloseTo(0.25, 12);
    expect(logisticBetween({ year: 0, p: 0 }, { year: 1, p: 0.5 }, 2)[1]).toEqual([0.5, 0.25]);
  });
  it("calendar years on the axis do not touch", () => {
    expect(yearTicks(2020.5, 2026.5, 400, 44)).toEqual([2020, 2021, 2022, 2023, 2024, 2025, 2026]);
    expect(yearTicks(2020.5, 2026.5, 150, 44)).toEqual([2020, 2025]);
    expect(yearTicks(1990, 2026, 200, 44)).toEqual([1990, 2000, 2010, 2020]);
    expect(yearTicks(2020.2, 2020.8, 200, 44)).toEqual([2020]);
    expect(yearTicks(Number.POSITIVE_INFINITY, Number.NEGATIVE_INFINITY, 200, 44)).toEqual([]);
  });
  it("a band goes out along its upper limits and back along the lower", () => {
    const path = band([
      { x: 0, low: 10, high: 2 },
      { x: 5, low: 12, high: 1 },
    ]);
    expect(path).toBe("M0.0 2.0L5.0 1.0L5.0 12.0L0.0 10.0Z");
    expect(band([])).toBe("");
  });
});
