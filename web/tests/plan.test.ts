import { describe, expect, it } from "vitest";
import type { BookView, MapView, TrackView } from "../src/api/contract";
import { areaPath } from "../src/plot/thumb";
import { type PlannedSite, planMarks } from "../src/screens/plan/model";
import { lookQuery } from "../src/screens/plan/papers";
import { planAsk, routeQuery, routeWords, values } from "../src/screens/plan/request";
import { unitsOf } from "../src/units/units";
import { isWord } from "../src/words/blanks";
import { daySentence, minutesWords, orderWords, overWords } from "../src/words/day";
import {
  between,
  goal,
  hoursAt,
  hoursWords,
  PURPOSES,
  question,
  wanted,
  withFigures,
} from "../src/words/effort";
import { kitGroups, kitText, oneThing } from "../src/words/kit";
import { counts, type LayoutKey, layoutSentence, waterSentence } from "../src/words/layouts";
import { direction } from "../src/words/plan";
import { trackAnswer } from "../src/words/track";

const us = unitsOf("us");
const metric = unitsOf("metric");
const nothing = () => null;

describe("How many throws are enough?", () => {
  it("every purpose has a sentence whose words begin at one of their choices", () => {
    for (const { key } of PURPOSES) {
      for (const units of [us, metric]) {
        const words = wanted(key, units).filter((word) => typeof word !== "string");
        expect(words.length, key).toBeGreaterThan(1);
        for (const word of words) {
          expect(word.label, key).not.toBe("");
          expect(
            word.choices.map(([value]) => value),
            `${key} ${word.key}`,
          ).toContain(word.usual);
        }
      }
    }
  });
  it("asks under the names the program knows, with what was chosen", () => {
    expect(question("detect", wanted("detect", us), nothing)).toEqual({
      purpose: "detect",
      occupancy: "0.02",
      detection: "0.63",
      confidence: "0.95",
      throws: "2",
    });
    const chosen = (key: string) => (key === "to" ? "0.1" : null);
    expect(question("change", wanted("change", us), chosen).to).toBe("0.1");
  });
  it("a bed is asked for by its area: half an acre is 2,023.4 square metres, by the foot of 1959", () => {
    const words = wanted("detect", us);
    const grows = words.find((word) => typeof word !== "string" && word.key === "grows");
    if (!grows || typeof grows === "string") throw new Error("no such word");
    const half = grows.choices.find(([, text]) => text.endsWith("half an acre"))?.[0] ?? "";
    const asked = question("detect", words, (key) => (key === "grows" ? half : null));
    expect(Number(asked.patch_area_m2)).toBeCloseTo((43_560 * 0.3048 ** 2) / 2, 1);
    expect(asked.occupancy).toBeUndefined();
  });
  it("the wanted chance is the power where a change is to be shown", () => {
    expect(goal("change", { power: "0.9", confidence: "0.95" })).toBe(0.9);
    expect(goal("detect", { confidence: "0.8" })).toBe(0.8);
  });
  it("sets the figures of a sentence apart and keeps every word of it", () => {
    const sentence =
      "173 sites with 2 throws each find a species that grows at 2 % of sites with 95 % confidence; about 14 hours.";
    const parts = withFigures(sentence);
    const figures = parts.flatMap((part) => (typeof part === "string" ? [] : [part.figure]));
    expect(figures).toEqual(["173 sites", "2 throws", "2\u202f%", "95\u202f%", "14 hours"]);
    const whole = parts.map((part) => (typeof part === "string" ? part : part.figure)).join("");
    expect(whole.replaceAll("\u202f", " ")).toBe(sentence);
  });
  it("reads between virtual surveys by a straight line, and nowhere else", () => {
    expect(between([10, 20], [0.2, 0.6], 15)).toBeCloseTo(0.4, 12);
    expect(between([10, 20], [0.2, 0.6], 20)).toBe(0.6);
    expect(between([10, 20], [0.2, 0.6], 5)).toBeNull();
    expect(between([10, 20], [0.2, 0.6], 25)).toBeNull();
    expect(hoursAt([10, 20], [2, 3], 30)).toBeCloseTo(4, 12);
    expect(hoursAt([10, 20], [2, 3], 0)).toBeCloseTo(1, 12);
    expect(hoursWords(9.66)).toBe("9\u00a0h\u00a040");
  });
});

describe("Where do they go?", () => {
  const bands = [
    { from_m: 0, to_m: 1.5 },
    { from_m: 1.5, to_m: 3 },
    { from_m: 3, to_m: null },
  ];
  it("counts every site once by depth, the unknown for themselves", () => {
    const at = (depth_m: number | null, zone: string | null) => ({ depth_m, zone });
    const found = counts(
      [at(0, "N"), at(1.5, "N"), at(2.9, null), at(9, "S"), at(null, "S")],
      bands,
    );
    expect(found.depths).toEqual([1, 2, 1]);
    expect(found.unknown).toBe(1);
    expect([...found.zones]).toEqual([
      ["N", 2],
      ["S", 2],
    ]);
  });
  it("a site, a spare and a dropped site are three signs; a dropped one cannot be carried", () => {
    const site: PlannedSite = {
      code: "1",
      x: 0,
      y: 0,
      zone: null,
      depth_m: 1,
      spare: false,
      dropped: false,
      visited: false,
      note: "",
    };
    const sites: PlannedSite[] = [
      site,
      { ...site, code: "2", spare: true },
      { ...site, code: "3", dropped: true },
      { ...site, code: "4", visited: true },
      { ...site, code: "5", x: null },
    ];
    const marks = planMarks(
      sites,
      (one) => (one.x === null || one.y === null ? null : [one.x, one.y]),
      { movable: true, chosen: null },
    );
    expect(marks.map((mark) => [mark.code, mark.kind, mark.movable])).toEqual([
      ["1", "planned", true],
      ["2", "spare", true],
      ["3", "dropped", false],
      ["4", "planned", false],
    ]);
  });
  it("a layout is asked for in metres, whatever the book speaks", () => {
    const book = { surveys: [{ name: "2026-summer" }] } as unknown as BookView;
    const map = { sub_areas: [{}] } as unknown as MapView;
    const ask = (layout: LayoutKey, said: Record<string, string>, units = us) => {
      const chosen = (key: string) => said[key] ?? null;
      const parts = [
        ...layoutSentence(layout, chosen, units, book, map, 60),
        ...waterSentence(units, { min: 0.3, max: 4.572 }),
      ];
      return planAsk(layout, parts, chosen, [], units);
    };
    expect(ask("point-grid", {}).sites).toBe(60);
    // a foot is 0.3048 m, an acre 43,560 square feet (yard and pound agreement of 1959)
    expect(ask("point-grid", { by: "spacing", spacing: "200" }).spacing_m).toBeCloseTo(60.96, 9);
    expect(ask("point-grid", {}).max_depth_m).toBeCloseTo(4.572, 9);
    expect(ask("sub-areas", { cut: "area", area: "1" }).area_m2).toBeCloseTo(4046.8564224, 6);
    expect(ask("squares", {}, metric).side_m).toBe(75);
    expect(ask("balanced", { spares: "5", strata: "zone" })).toMatchObject({
      sites: 60,
      spares: 5,
      strata: "zone",
      seed: 1,
    });
    expect(ask("again", {})).toEqual({ layout: "again", earlier: "2026-summer" });
  });
  it("says in which direction a site went", () => {
    expect(direction(0, 5)).toBe("north");
    expect(direction(5, 5)).toBe("north-east");
    expect(direction(5, 0)).toBe("east");
    expect(direction(0, -5)).toBe("south");
    expect(direction(-5, 0.1)).toBe("west");
    expect(direction(-5, 5)).toBe("north-west");
  });
  it("a lake the size of a stamp keeps its shape: north up, nothing outside the box", () => {
    const ring = [
      [0, 0],
      [200, 0],
      [200, 100],
      [0, 100],
      [0, 0],
    ];
    const { d, at } = areaPath({ type: "Polygon", coordinates: [ring] }, [0, 0, 200, 100], 102, 52);
    expect(d).toBe("M1.0 51.0L101.0 51.0L101.0 1.0L1.0 1.0L1.0 51.0Z");
    expect(at(100, 50)).toEqual([51, 26]);
  });
});

describe("Does the day fit?", () => {
  it("asks with units, and leaves out what is usual for the program", () => {
    const sentence = daySentence(["North launch"], us, "2027-07-15", false);
    const query = routeQuery("2027-summer", sentence, nothing, us);
    expect(Object.fromEntries(query)).toEqual({
      survey: "2027-summer",
      from: "North launch",
      boats: "1",
      days: "1",
      speed: "5mph",
      draft: "1ft",
      date: "2027-07-15",
      start: "08:30",
    });
    const own = daySentence(["Launch"], metric, "2027-07-15", true);
    const said: Record<string, string> = { pace: "own", minutes: "4", by: "15:00", draft: "0" };
    const asked = routeQuery("A", own, (key) => said[key] ?? null, metric);
    expect(asked.get("minutes_per_site")).toBe("4");
    expect(asked.get("back_by")).toBe("15:00");
    expect(asked.get("speed")).toBe("8km/h");
    expect(asked.has("draft")).toBe(false);
    expect(routeWords(asked)).toMatchObject({ boats: 1, minutes_per_site: 4, speed: "8km/h" });
    expect("survey" in routeWords(asked)).toBe(false);
  });
  it("papers are asked for as they shall look, and nothing more is said", () => {
    expect(
      lookQuery({ paper: "letter", ink: "colour", type: "usual", blank: "0" }).toString(),
    ).toBe("");
    const all = lookQuery({ paper: "a4", ink: "black", type: "large", blank: "2" });
    expect(all.toString()).toBe("paper=a4&black_and_white=true&large=true&spares=2");
  });
  it("every field of the sentence has a name", () => {
    for (const part of daySentence(["A", "B"], us, "2027-07-15", true)) {
      if (typeof part !== "string") expect(part.label).not.toBe("");
      if (typeof part !== "string" && isWord(part)) {
        expect(part.choices.map(([value]) => value)).toContain(part.usual);
      }
    }
    expect(values(["a", { key: "k", label: "K", usual: "", type: "text" }], nothing)).toEqual({});
  });
  it("tells hours, orders and what is over in words", () => {
    expect(minutesWords(371)).toBe("6\u00a0h\u00a011");
    expect(minutesWords(45)).toBe("45\u00a0min");
    expect(minutesWords(120)).toBe("2\u00a0h");
    expect(orderWords(["1", "2", "3"])).toBe("1, 2, 3");
    expect(orderWords(["1", "2", "3", "4", "5", "6", "7", "8"])).toBe("1, 2, 3, 4 … 7, 8");
    expect(overWords([])).toBe("");
    expect(overWords(["4", "9"])).toBe("Two sites over: 4 and 9.");
  });
});

describe("What to load", () => {
  it("is groups of things, ticked or left ashore, and goes back to the same text", () => {
    const text = "# To sample\nrake\n~ second rake\n\n# Safety\nlife jackets";
    const groups = kitGroups(text);
    expect(groups.map((group) => group.title)).toEqual(["To sample", "Safety"]);
    expect(groups[0]?.things).toEqual([
      { name: "rake", taken: true },
      { name: "second rake", taken: false },
    ]);
    expect(kitText(groups)).toBe(text);
    expect(kitGroups("- rope\n")).toEqual([
      { title: "To take along", things: [{ name: "rope", taken: true }] },
    ]);
  });
  it("takes one line of a thing, and no sign that would mean something else", () => {
    expect(oneThing(" ~# a\nspare  rope ")).toBe("a spare rope");
    expect(oneThing("#")).toBe("");
  });
});

describe("Where was the boat?", () => {
  const site = { lat: null, lon: null, marked: false, nearest_m: null, x: null, y: null };
  const came = { ...site, arrive: "2026-07-14T08:40:00", minutes: 4, missed: false };
  const track: TrackView = {
    survey: "2026",
    file: "day.gpx",
    points: 9,
    waypoints: 0,
    start: "2026-07-14T08:30:00",
    end: "2026-07-14T11:05:00",
    within_m: 30,
    ways: [],
    stored: 0,
    without_position: 2,
    warnings: [],
    missed: ["3"],
    sites: [
      { ...came, code: "1", off_m: 3.048 },
      { ...came, code: "2", off_m: 30.48 },
      { ...site, code: "3", off_m: null, arrive: null, minutes: null, missed: true },
    ],
  };
  it("says where it was, how near, and what it missed", () => {
    expect(trackAnswer(track, unitsOf("us"))).toBe(
      "The boat was at two sites of 3, out from 08:30 to 11:05. Half of them were worked within 10\u00a0ft of the plan. One site missed: 3.",
    );
  });
  it("says so when nothing was missed", () => {
    const all = { ...track, missed: [], sites: track.sites.slice(0, 2), start: null };
    expect(trackAnswer(all, unitsOf("us"))).toMatch(
      /^The boat was at two sites of 2\. .* None was missed\.$/,
    );
  });
});
