import { describe, expect, it } from "vitest";
import { readBottom, readDepth, readOutcome, writeDepth, writeOutcome } from "../src/entry/cells";
import { NOTHING, readRow, type Typed, typedOf } from "../src/entry/rows";
import { Scale } from "../src/entry/scale";
import { onSheets, sheetOf } from "../src/entry/sheets";
import { Finder, type Plant, slips } from "../src/entry/taxa";
import { ThrowReader } from "../src/entry/throws";
import { unitsOf } from "../src/units/units";

const plant = (
  code: string,
  commonName: string,
  scientificName: string,
  more: Partial<Plant> = {},
): Plant => ({
  code,
  commonName,
  scientificName,
  oldNames: [],
  introduced: false,
  unknown: false,
  found: 0,
  ...more,
});
const PLANTS = [
  plant("CEDE", "coontail", "Ceratophyllum demersum", { found: 40 }),
  plant("CHAR", "muskgrass", "Chara"),
  plant("MYSI", "northern watermilfoil", "Myriophyllum sibiricum", {
    oldNames: ["Myriophyllum exalbescens"],
  }),
  plant("MYSP", "Eurasian watermilfoil", "Myriophyllum spicatum", { introduced: true, found: 9 }),
  plant("STPE", "sago pondweed", "Stuckenia pectinata", { oldNames: ["Potamogeton pectinatus"] }),
  plant("POZO", "flat-stem pondweed", "Potamogeton zosteriformis"),
  plant("UN-1", "unknown 1", "", { unknown: true }),
];
const finder = new Finder(PLANTS);
const HANDFUL = new Scale(
  ["0", "T", "S", "M", "D"].map((code, value) => ({ code, name: code, measure: "", value })),
);
const FULLNESS = new Scale([
  ...["0", "1", "2", "3"].map((code, value) => ({ code, name: code, measure: "", value })),
  { code: "V", name: "visual", measure: "", value: null },
]);
const COVER = new Scale(
  ["0", "1", "2", "10"].map((code, value) => ({ code, name: code, measure: "", value })),
);
const PRESENCE = new Scale([
  { code: "0", name: "absent", measure: "", value: 0 },
  { code: "P", name: "present", measure: "", value: 1 },
]);
const hand = new ThrowReader(finder, HANDFUL);
const full = new ThrowReader(finder, FULLNESS);

/** What comes of typing these keys one after the other into an empty box. */
function typed(reader: ThrowReader, keys: string): string {
  let text = "";
  for (const key of keys) text = reader.key(text, key) ?? text + key;
  return text;
}

describe("slips between two words", () => {
  // Damerau (1964): one letter wrong, missing, too much, or two neighbours changed over is one error
  it.each([
    ["CEDE", "CEDE", 0],
    ["CEDE", "CDEE", 1],
    ["CEDE", "CED", 1],
    ["CEDE", "CEDDE", 1],
    ["CEDE", "CEBE", 1],
    ["CEDE", "MYSP", 3],
  ])("%s and %s lie %i apart, or more than two", (a, b, expected) => {
    expect(slips(a, b, 2)).toBe(expected);
  });
});

describe("finding a plant", () => {
  it("by code, common, scientific and old name, and by a typing error", () => {
    const first = (text: string) => {
      const match = finder.complete(text)[0];
      return match && [match.plant.code, match.why];
    };
    expect(first("ce")).toEqual(["CEDE", "code"]);
    expect(first("coont")).toEqual(["CEDE", "name"]);
    expect(first("milfoil")).toEqual(["MYSP", "name"]);
    expect(first("watermil")).toEqual(["MYSP", "name"]);
    expect(first("spicat")).toEqual(["MYSP", "latin"]);
    expect(first("exalb")).toEqual(["MYSI", "old name"]);
    expect(first("CDEE")).toEqual(["CEDE", "like"]);
    expect(first("contail")).toEqual(["CEDE", "like"]);
    expect(first("euraisan watermilfoil")).toEqual(["MYSP", "like"]);
  });
  it("the commoner of two codes stands first; a code before a name", () => {
    expect(finder.complete("my").map(({ plant }) => plant.code)).toEqual(["MYSP", "MYSI"]);
  });
  it("an old name leads to what it is called now", () => {
    expect(finder.exact("Potamogeton pectinatus")?.code).toBe("STPE");
  });
});

describe("a throw box", () => {
  it("reads codes with ratings, in any case, and names", () => {
    expect(hand.read("pozo s  CHAR D").finds).toEqual([
      { taxon: "POZO", rating: "S", seen: "rake" },
      { taxon: "CHAR", rating: "D", seen: "rake" },
    ]);
    expect(hand.read("flat-stem pondweed S coontail").finds).toEqual([
      { taxon: "POZO", rating: "S", seen: "rake" },
      { taxon: "CEDE", rating: null, seen: "rake" },
    ]);
  });
  it("tells bare, not made and not written apart", () => {
    expect(hand.read("")).toMatchObject({ kind: "empty" });
    expect(hand.read("0")).toMatchObject({ kind: "thrown", total: "0", finds: [] });
    expect(hand.read("-")).toMatchObject({ kind: "not made" });
    expect(hand.write(hand.read("-"))).toBe("–");
  });
  it("reads a rating written against the code, and the rake as a whole", () => {
    expect(full.read("CEDE3 CH1").finds).toEqual([
      { taxon: "CEDE", rating: "3", seen: "rake" },
      { taxon: "CHAR", rating: "1", seen: "rake" },
    ]);
    expect(full.read("=2 CEDE 2")).toMatchObject({ total: "2", slips: [] });
  });
  it("a plant seen beside the rake is not on it", () => {
    expect(full.read("CEDE V").finds).toEqual([{ taxon: "CEDE", rating: "V", seen: "visual" }]);
    expect(hand.read("CEDE v").finds).toEqual([{ taxon: "CEDE", rating: null, seen: "visual" }]);
    expect(hand.read("0 CEDE V")).toMatchObject({ total: "0", slips: [] });
  });
  it("where there is one rating only it need not be typed", () => {
    const there = new ThrowReader(finder, PRESENCE);
    expect(there.read("CEDE CHAR").finds.map((find) => find.rating)).toEqual(["P", "P"]);
    expect(there.write(there.read("cede char"))).toBe("CEDE  CHAR");
  });
  it.each([
    ["CEDX M", "no plant", "CEDX"],
    ["MY M", "several", "MY"],
    ["CEDE M CEDE S", "twice", "CEDE S"],
    ["0 CEDE M", "bare with plants", "0 CEDE M"],
    ["CEDE M T", "rating alone", "T"],
  ] as const)("`%s` keeps what was typed and says: %s", (text, why, piece) => {
    expect(hand.read(text).slips).toMatchObject([{ why, text: piece }]);
    expect(hand.tidy(text)).toBe(text);
  });
  it("every cell it can write it reads back", () => {
    for (const text of ["0", "–", "CEDE M", "= D  CEDE M  POZO .", "0  CEDE V", "CEDE M  NYOD"]) {
      const cell = hand.read(text);
      if (cell.slips.length > 0) continue;
      expect(hand.read(hand.write(cell))).toEqual(cell);
    }
  });
});

describe("typing into a throw box", () => {
  it("a blank takes the only code that begins so, a rating is one key", () => {
    expect(typed(hand, "ce mpoz s")).toBe("CEDE M POZO S ");
    expect(typed(hand, "ce m poz s ")).toBe("CEDE M POZO S ");
  });
  it("a blank never chooses between two plants", () => {
    expect(typed(hand, "my ")).toBe("my ");
    expect(hand.inHand("my ", 3)).toEqual({ from: 0, query: "my" });
  });
  it("a letter that begins a code is no rating once the plant is rated", () => {
    expect(typed(hand, "ce mst s")).toBe("CEDE M STPE S ");
  });
  it("a number may stand straight behind the letters", () => {
    expect(typed(full, "ce3ch1")).toBe("CEDE 3 CHAR 1 ");
    expect(typed(full, "un-1")).toBe("un-1");
  });
  it("a rating of two figures is not cut short", () => {
    const cover = new ThrowReader(finder, COVER);
    expect(cover.read(typed(cover, "ce 10 ch 2")).finds.map((find) => find.rating)).toEqual([
      "10",
      "2",
    ]);
  });
  it("knows what is being typed, and puts the chosen plant there", () => {
    const text = "CEDE M  euras";
    const query = hand.inHand(text, text.length);
    expect(query).toEqual({ from: 8, query: "euras" });
    const match = finder.complete("euras")[0];
    if (!query || !match) throw new Error("nothing to choose");
    expect(hand.choose(text, text.length, query.from, match.plant).text).toBe("CEDE M  MYSP ");
    expect(hand.inHand("CEDE M ", 7)).toBeUndefined();
    expect(hand.inHand("CEDE ", 5)).toBeUndefined();
    expect(hand.inHand("CEDE M", 6)).toBeUndefined();
  });
});

describe("the other boxes", () => {
  const us = unitsOf("us");
  it("a depth is in the book's unit unless it says otherwise", () => {
    expect(readDepth("10", us)).toEqual({ ok: true, value: expect.closeTo(3.048, 9) });
    expect(readDepth("3,5 m", us)).toEqual({ ok: true, value: 3.5 });
    expect(readDepth("", us)).toEqual({ ok: true, value: null });
    expect(readDepth("2-6", us).ok).toBe(false);
    expect(readDepth("-3", us).ok).toBe(false);
    expect(writeDepth(3.2004, us)).toBe("10.5");
  });
  it("a bottom is known by its first letters", () => {
    const table: [string, string][] = [
      ["m", "muck"],
      ["mu", "muck"],
      ["ma", "marl"],
      ["Sand", "sand"],
      ["s", "sand"],
      ["r", "rock"],
    ];
    for (const [text, value] of table) expect(readBottom(text)).toEqual({ ok: true, value });
    expect(readBottom("lava").ok).toBe(false);
  });
  it("the letters at the foot of the sheet say why nothing was sampled; the rest is a remark", () => {
    expect(readOutcome("P thick lilies")).toEqual({
      outcome: "not-navigable-plants",
      note: "thick lilies",
    });
    expect(readOutcome("x")).toEqual({ outcome: "too-deep", note: "" });
    expect(readOutcome("o boy, what a fish")).toEqual({
      outcome: null,
      note: "o boy, what a fish",
    });
    expect(readOutcome("")).toEqual({ outcome: null, note: "" });
    for (const text of ["P thick lilies", "R", "windy"]) {
      expect(writeOutcome(readOutcome(text))).toBe(text);
    }
  });
  it("three hundred sites lie on twenty sheets", () => {
    const sheets = onSheets(Array.from({ length: 300 }, (_, i) => i));
    expect(sheets.length).toBe(20);
    expect(sheets[19]?.rows.at(-1)).toBe(299);
    expect([sheetOf(0), sheetOf(14), sheetOf(15), sheetOf(299)]).toEqual([1, 1, 2, 20]);
    expect(onSheets([]).length).toBe(1);
  });
});

describe("a row of the sheet", () => {
  const us = unitsOf("us");
  const row = (typed: Partial<Typed>) => ({ typed: { ...NOTHING, ...typed }, beside: {} });
  it("comes back from the book as it was typed", () => {
    for (const typed of [
      { depth: "10.5", bottom: "muck", throws: ["CEDE M  POZO S", "0"], outcome: "windy" },
      { depth: "", bottom: "", throws: [], outcome: "P thick lilies" },
      { depth: "4", bottom: "sand", throws: ["= D  CEDE D", "–", "CEDE V"], outcome: "" },
    ]) {
      const { visit, unread } = readRow(row(typed), hand, us);
      expect(unread).toEqual([]);
      expect(typedOf(visit, hand, us)).toEqual(typed);
    }
  });
  it("what nobody can read is kept in the note, told, and back in its box", () => {
    const typed = {
      depth: "1O",
      bottom: "lava",
      throws: ["CEDE M  XYZZY S", "QQQ"],
      outcome: "ok",
    };
    const { visit, unread } = readRow(row(typed), hand, us);
    expect(unread.map(({ box }) => box)).toEqual(["depth", "bottom", "throw1", "throw2"]);
    expect(visit.depth_m).toBeNull();
    expect(visit.throws).toEqual([
      { number: 1, total: null, observations: [{ taxon: "CEDE", rating: "M", seen: "rake" }] },
    ]);
    expect(typedOf(visit, hand, us)).toEqual(typed);
  });
  it("a bare throw, one not made and a blank box stay three things", () => {
    const throws = (text: string) => readRow(row({ throws: ["CEDE M", text] }), hand, us).visit;
    expect(throws("0").throws).toHaveLength(2);
    expect(throws("–").throws).toHaveLength(1);
    expect(throws("–").note).toBe("[throw 2 not made]");
    expect(throws("").note).toBe("");
  });
  it("keeps what has no box: the time, the position, who wrote it", () => {
    const beside = { time: "2026-07-14T09:15", lon: -71.5, lat: 42.5, observer: "A. Marsh" };
    expect(readRow({ typed: NOTHING, beside }, hand, us).visit).toMatchObject(beside);
  });
});
