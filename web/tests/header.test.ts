import { describe, expect, it } from "vitest";
import type { HeaderBody } from "../src/api/contract";
import {
  headerText,
  readClock,
  readCrew,
  readDay,
  withHeaderText,
  writeCrew,
} from "../src/entry/header";
import { unitsOf } from "../src/units/units";

const us = unitsOf("us");
const metric = unitsOf("metric");
const ROLES = [
  { key: "rake", words: "rake" },
  { key: "recorder", words: "pencil" },
];
const EMPTY: HeaderBody = {
  protocol: "",
  start: null,
  end: null,
  throws_per_site: 2,
  depth_cap_m: null,
  crew: [],
  days: [],
  note: "",
};

describe("the head of a sheet", () => {
  it("reads days as people write them; a day that is in no calendar is refused", () => {
    for (const text of [
      "2026-07-14",
      "14 July 2026",
      "July 14, 2026",
      "7/14/2026",
      "14 jul 2026",
    ]) {
      expect(readDay(text, us), text).toEqual({ ok: true, value: "2026-07-14" });
    }
    expect(readDay("2026-02-29", us).ok).toBe(false);
    expect(readDay("29 February 2028", us).ok).toBe(true);
    // which is the month, nobody knows
    expect(readDay("7/4/2026", metric).ok).toBe(false);
  });
  it("reads times of day", () => {
    for (const [text, want] of [
      ["8:40", "08:40"],
      ["0840", "08:40"],
      ["2.15 pm", "14:15"],
      ["12 am", "00:00"],
    ]) {
      expect(readClock(text as string), text).toEqual({ ok: true, value: want });
    }
    expect(readClock("25:00").ok).toBe(false);
  });
  it("keeps temperatures in Celsius: water freezes at 32 °F and boils at 212 °F", () => {
    for (const [text, units, celsius] of [
      ["32", us, 0],
      ["212", us, 100],
      ["20 C", us, 20],
      ["20", metric, 20],
    ] as const) {
      const read = withHeaderText(EMPTY, 0, "air_c", text, units, ROLES);
      expect(read.ok && read.value.days[0]?.air_c).toBeCloseTo(celsius, 9);
    }
  });
  it("a temperature comes back as it was typed", () => {
    const read = withHeaderText(EMPTY, 0, "water_c", "74", us, ROLES);
    const day = read.ok ? read.value.days[0] : undefined;
    if (!read.ok || !day) throw new Error("not read");
    expect(headerText(read.value, day, "water_c", us, ROLES)).toBe("74");
  });
  it("the survey lasts from its first day to its last", () => {
    const first = withHeaderText(EMPTY, 0, "date", "2026-07-15", us, ROLES);
    if (!first.ok) throw new Error("not read");
    const second = withHeaderText(first.value, 1, "date", "2026-07-14", us, ROLES);
    expect(second.ok && [second.value.start, second.value.end]).toEqual([
      "2026-07-14",
      "2026-07-15",
    ]);
  });
  it("reads a crew with roles, the star marks who named the plants, and writes it back", () => {
    const crew = readCrew("T. Kay rake, A. Marsh (pencil) *", ROLES);
    expect(crew).toEqual([
      { name: "T. Kay", role: "rake", identified: false },
      { name: "A. Marsh", role: "recorder", identified: true },
    ]);
    expect(readCrew(writeCrew(crew, ROLES), ROLES)).toEqual(crew);
  });
});
