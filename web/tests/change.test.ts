import { describe, expect, it } from "vitest";
import { map } from "../fixtures/lake.mjs";
import { all, compare } from "../fixtures/surveys.mjs";
import type {
  ContrastView,
  CountView,
  EffectView,
  TreatmentView,
  TrendView,
} from "../src/api/contract";
import { parse } from "../src/api/shape";
import { bareBoth } from "../src/map/bare";
import { chanceColour, unsureColour } from "../src/map/chances";
import { changeAt, changeMarks } from "../src/map/marks";
import { areaPath, plane } from "../src/map/plane";
import { unitsOf } from "../src/units/units";
import { newItems } from "../src/words/alerts";
import { communityWords, isSimilarity, noiseSays, noiseValue } from "../src/words/alike";
import {
  controlWords,
  daysBetween,
  effectWords,
  nativesLine,
  treatedWhen,
  treatmentChoices,
  verdictLead,
} from "../src/words/efficacy";
import { plain } from "../src/words/lake";
import { moves } from "../src/words/spread";
import { figureWords, pageOf, sentenceParts, topics } from "../src/words/summary";
import { oddsAYear, pointsAYear, trendAnswer, trendsInOrder } from "../src/words/trend";

const us = unitsOf("us");
const compared = parse("CompareView", compare("July 2025", "July 2026"));

describe("gains and losses", () => {
  it("each site sampled twice is one of four, and they add up to the table", () => {
    for (const taxon of compared.taxa) {
      const marks = changeMarks(compared.places, taxon.code);
      const count = (kind: string) => marks.filter((mark) => mark.kind === kind).length;
      expect(marks.length).toBe(compared.pairs);
      expect([count("gained"), count("lost")]).toEqual([taxon.gained, taxon.lost]);
      expect(count("kept") + count("lost")).toBe(taxon.from.k);
      expect(count("kept") + count("gained")).toBe(taxon.to.k);
    }
  });
  it("what moved most stands first", () => {
    const rows = moves(compared);
    const turnover = rows.map((row) => (row.gained ?? 0) + (row.lost ?? 0));
    expect(turnover).toEqual([...turnover].sort((a, b) => b - a));
    expect(moves({ ...compared, design: "independent" })[0]?.gained).toBeNull();
  });
  it("sites bare both times make up the pairs, or are not claimed at all", () => {
    const earlier = parse("SurveySitesView", all["July 2025"]);
    const later = parse("SurveySitesView", all["July 2026"]);
    // the comparison leaves out sites without plants both times: one such
    const [first, ...rest] = compared.places;
    const bare = bareBoth(earlier, later, { ...compared, places: rest });
    expect(bare.map((site) => site.code)).toEqual([first?.code]);
    expect(bareBoth(earlier, later, { ...compared, places: rest, pairs: 3 })).toEqual([]);
    expect(bareBoth(earlier, later, { ...compared, pairs: null })).toEqual([]);
  });
  it("a plant in none of the lists was found neither time", () => {
    expect(changeAt({ gained: ["A"], lost: ["B"], kept: ["C"] }, "D")).toBe("not-found");
  });
});

describe("small maps", () => {
  it("keep the shape of the lake: one scale for both ways", () => {
    const on = plane([0, 0, 1000, 500], 208, 4);
    expect(on.x(1000) - on.x(0)).toBeCloseTo(200, 9);
    expect(on.y(0) - on.y(500)).toBeCloseTo(100, 9);
    expect(on.height).toBeCloseTo(108, 9);
    const tall = plane([0, 0, 100, 1000], 208, 4, 108);
    expect(tall.height).toBeCloseTo(108, 9);
    expect((tall.x(0) + tall.x(100)) / 2).toBeCloseTo(104, 9);
  });
  it("draw every ring of the outline, and nothing for what is no area", () => {
    const on = plane(parse("MapView", map).extent, 176);
    expect(areaPath(map.outline, on)).toMatch(/^M[\d. L]+Z/);
    expect(areaPath({ type: "Point", coordinates: [0, 0] }, on)).toBe("");
  });
  it("chances run from light to dark, and so does doubt", () => {
    const light = (colour: string) =>
      (colour.match(/\d+/g) ?? []).map(Number).reduce((sum, part) => sum + part, 0);
    const steps = [0, 0.25, 0.5, 0.75, 1];
    const chances = steps.map((share) => light(chanceColour(share)));
    expect(chances).toEqual([...chances].sort((a, b) => b - a));
    expect(chanceColour(0)).toBe("rgb(253 231 37)");
    expect(chanceColour(1)).toBe("rgb(68 1 84)");
    expect(chanceColour(7)).toBe(chanceColour(1));
    expect(light(unsureColour(0))).toBeGreaterThan(light(unsureColour(0.5)));
  });
});

const count = (k: number, n: number): CountView => ({ k, n, p: n ? k / n : null, low: 0, high: 1 });
const contrast = (value: number, low: number, high: number): ContrastView => ({
  value,
  low,
  high,
  scale: "difference of proportions",
  p: 0.01,
});
const effect = (difference: ContrastView | null, p: number | null): EffectView => ({
  treated: { before: count(14, 18), after: count(4, 18), same_sites: true },
  untreated: { before: count(14, 71), after: count(14, 71), same_sites: true },
  difference,
  log_odds: null,
  p,
  p_adjusted: null,
  abbott: null,
  henderson_tilton: null,
  detectable: null,
  density: null,
  verdict: (difference?.high ?? 0) < 0 && (p ?? 1) <= 0.05 ? "fell" : "cannot tell",
  may_be: [],
});

describe("Did it work?", () => {
  const bed = (code: string, name: string, start: string): TreatmentView => ({
    code,
    name,
    method: "herbicide",
    start,
    end: start,
    area_m2: 1,
    reported_area_m2: null,
    by: "",
    before: null,
    note: "",
    label: [0, 0],
    geometry: {},
  });
  const three = [
    bed("T1", "West bay", "2024-05-20"),
    bed("T2", "West bay again", "2026-05-16"),
    bed("T3", "Launch cove", "2026-05-17"),
  ];
  it("beds treated in one month are asked about together first, then each; the latest first", () => {
    expect(treatmentChoices(three)).toEqual([
      { codes: "T3,T2", name: "all 2 of May 2026" },
      { codes: "T3", name: "Launch cove" },
      { codes: "T2", name: "West bay again" },
      { codes: "T1", name: "West bay" },
    ]);
    expect(treatedWhen(three.slice(1))).toBe("16 to 17 May 2026");
    expect(daysBetween("2026-05-17", "2026-07-14")).toBe(58);
    expect(daysBetween(null, "2026-07-14")).toBeNull();
  });
  it("a change comes with its interval", () => {
    expect(effectWords(effect(contrast(-0.56, -0.8, -0.31), 0.002))).toBe(
      "−56 points (−80 to −31)",
    );
  });
  it("the verdict's word leads, once", () => {
    expect(verdictLead("yes", "The treatment worked.")).toEqual({
      lead: "Yes.",
      rest: " The treatment worked.",
    });
    expect(verdictLead("cannot tell", "Cannot tell whether it worked.")).toEqual({
      lead: "Cannot tell",
      rest: " whether it worked.",
    });
  });
  it("no loss of a native shown is no proof that there was none", () => {
    const native = (difference: ContrastView | null, p: number, detectable: number | null) => ({
      code: "CEDE",
      scientific_name: "",
      common_name: "coontail",
      origin: "native",
      effect: { ...effect(difference, p), detectable },
    });
    const same = native(contrast(-0.04, -0.2, 0.1), 0.6, 0.32);
    const rarer = native(contrast(0, -0.1, 0.1), 1, 0.05);
    expect(nativesLine([same, rarer])?.rest).toBe(
      " no loss was shown, but only a loss of 5 to 32 points or more, by kind, would have been.",
    );
    expect(nativesLine([same, native(contrast(-0.5, -0.8, -0.2), 0.001, 0.3)])).toBeNull();
    expect(nativesLine([])).toBeNull();
  });
  it("percentages carry their interval, or say that there is none", () => {
    expect(controlWords({ value: 0.71, low: 0.3, high: 0.92 })).toBe("71\u202f% (30 to 92\u202f%)");
    expect(controlWords({ value: -0.2, low: null, high: null })).toBe("−20\u202f%, no interval");
    expect(controlWords(null)).toBe("undefined");
  });
});

describe("Which way is it going?", () => {
  const trend = (name: string, verdict: string, code = name): TrendView => ({
    code,
    scientific_name: "",
    name,
    origin: "",
    surveys: [1, 2, 3].map((k) => ({
      survey: `${k}`,
      date: null,
      year: 2020 + k,
      k,
      n: 9,
      p: k / 9,
      low: 0,
      high: 1,
      stretch: 0,
      fitted: null,
      named_otherwise: 0,
      left_out: "",
    })),
    model: "",
    per_year: null,
    odds_ratio: null,
    overdispersion: null,
    degrees_of_freedom: null,
    surveys_used: 3,
    detectable: null,
    mann_kendall: null,
    mann_kendall_why_not: "",
    breaks: [],
    shared_depth_m: null,
    verdict,
    why_not: "",
    sentence: "",
    methods: {},
  });
  const view = {
    notes: [],
    taxa: [
      trend("any plant", "cannot tell", "any"),
      trend("coontail", "cannot tell"),
      trend("Eurasian watermilfoil", "falling"),
      trend("wild celery", "cannot tell"),
    ],
  };
  it("names what rises and falls, and counts what nobody can tell", () => {
    expect(plain(trendAnswer(view))).toBe(
      "Eurasian watermilfoil is becoming rarer. For two other kinds, over three surveys, nobody can tell.",
    );
    const untold = { ...view, taxa: view.taxa.filter((one) => one.verdict === "cannot tell") };
    expect(plain(trendAnswer(untold))).toBe(
      "Cannot tell for any of two kinds over three surveys: none is shown to rise or to fall.",
    );
  });
  it("trends that were shown stand first, all plants together last", () => {
    expect(trendsInOrder(view).map((one) => one.code)).toEqual([
      "Eurasian watermilfoil",
      "coontail",
      "wild celery",
      "any",
    ]);
  });
  it("a slope is points a year with its sign", () => {
    expect(pointsAYear(-0.0423)).toBe("−4.2");
    expect(pointsAYear(0.03)).toBe("+3.0");
    expect(pointsAYear(0)).toBe("0.0");
    expect([0.94, 1, 1.35, 40].map(oddsAYear)).toEqual(["−6", "0", "+35", ">+1000"]);
  });
});

describe("how alike two surveys are", () => {
  it("is told by the test, with its p; without one nobody can tell", () => {
    const { community } = compared;
    expect(communityWords({ ...community, r: 0.31, p: 0.001 })).toEqual({
      lead: "The plants together changed",
      rest: ", more than chance makes them (R = 0.31, p = 0.001).",
    });
    expect(communityWords({ ...community, r: 0.01, p: 0.4 }).lead).toBe("Cannot tell");
    expect(communityWords(community).rest).toContain(community.why_not);
  });
  // the bands of Nichols (1997) as the program hands them out
  it("ordinary noise speaks the reader's units", () => {
    const band = { words: "", from: null, to: null, beyond: true };
    const depth = { ...band, measure: "max-plant-depth", change: -0.6096, band: 0.8 };
    expect(noiseValue(depth, depth.change, us, true)).toBe("−2.0\u00a0ft");
    expect(noiseValue(depth, null, us)).toBe("");
    expect(noiseSays(depth)).toBe("more than ordinary");
    const alike = { ...band, measure: "floral-similarity", change: 0.9, band: 0.7, beyond: null };
    expect(isSimilarity(alike)).toBe(true);
    expect(noiseSays(alike)).toBe("not known");
  });
});

describe("what is new", () => {
  const alert = (kind: string, code: string, zone: string | null, sites: string[]) => ({
    kind,
    code,
    scientific_name: "",
    common_name: code,
    zone,
    sites,
    blanks_before: 1,
    frequency: null,
    certain: null,
    limit: null,
    sentence: `First record of ${code}`,
    anchor: "alerts",
  });
  it("a plant first found in several zones is one line, the others stand for themselves", () => {
    const items = newItems([
      alert("first-in-lake", "loosestrife", null, []),
      alert("first-in-zone", "milfoil", "E1", ["3", "5"]),
      alert("first-in-zone", "pondweed", "W2", ["68"]),
      alert("first-in-zone", "milfoil", "M1", ["47"]),
    ]);
    expect(items.map((item) => item.text)).toEqual([
      "First record of loosestrife.",
      "First record of milfoil in zones E1 (two sites) and M1 (one site): one earlier survey did not find it there.",
      "First record of pondweed.",
    ]);
  });
});

describe("the summary", () => {
  const say = (topic: string, sentence: string) => ({
    topic,
    question: `${topic}?`,
    sentence,
    figures: [],
    cannot_tell: false,
    anchor: "",
  });
  it("keeps the sentences of a question together and numbers them through", () => {
    const groups = topics([say("here", "a"), say("new", "b"), say("here", "c")]);
    expect(groups.map((group) => group.topic)).toEqual(["here", "new"]);
    expect(groups[0]?.sentences.map((one) => [one.sentence, one.index])).toEqual([
      ["a", 1],
      ["c", 2],
    ]);
    expect(groups[1]?.sentences[0]?.index).toBe(3);
    expect(pageOf("moved")).toBe("spread");
    expect(pageOf("here")).toBeNull();
  });
  it("what stands in brackets is set as figures, and the sentence stays whole", () => {
    const sentence = "Cannot tell whether it moved: 57 ft (p 1.00), and no more (n 3).";
    const parts = sentenceParts(sentence);
    expect(parts.map((part) => part.text).join("")).toBe(sentence);
    expect(parts.filter((part) => part.kind === "figures").map((part) => part.text)).toEqual([
      "(p 1.00)",
      "(n 3)",
    ]);
    expect(parts[0]).toEqual({ text: "Cannot tell", kind: "lead" });
    expect(sentenceParts("Nothing new.")).toEqual([{ text: "Nothing new.", kind: "plain" }]);
  });
  it("figures stand with their unit and interval", () => {
    const figure = (name: string, value: number, low: number | null, high: number | null) =>
      figureWords({ name, value, low, high }, us);
    expect(figure("frequency_any", 0.92, 0.84, 0.96)).toBe(
      "sites with any plant 92\u202f% (84\u202f% to 96\u202f%)",
    );
    expect(figure("difference", -0.2, -0.31, -0.08)).toBe("change −20 points (−31 to −8)");
    expect(figure("max_plant_depth_m", 4.572, null, null)).toBe("deepest plant 15\u00a0ft");
    expect(figure("p", 0.0004, null, null)).toBe("p below 0.001");
  });
});
