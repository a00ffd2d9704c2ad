import { readFileSync } from "node:fs";
import { describe, expect, it } from "vitest";
import { lake, map } from "../fixtures/lake.mjs";
import { all, bare, book, compare, findings, surveyList } from "../fixtures/surveys.mjs";
import { CONTRACT, contract, DOCUMENT } from "../scripts/types.mjs";
import { parse, parseList, ShapeError } from "../src/api/shape";

describe("the contract with the server", () => {
  it("the committed types are those of the committed document", () => {
    const document: unknown = JSON.parse(readFileSync(DOCUMENT, "utf8"));
    expect(readFileSync(CONTRACT, "utf8")).toBe(contract(document));
  });

  it("the invented lake keeps to it", () => {
    expect(parse("BookView", book).name).toBe("Lake Tamarin");
    expect(parse("LakeView", lake).zones.length).toBe(8);
    expect(parse("MapView", map).bands.length).toBe(7);
    expect(parseList("SurveyView", surveyList).length).toBe(3);
    expect(parse("SurveySitesView", all["July 2026"]).sites.length).toBe(82);
    expect(parse("FindingsView", findings("July 2026")).taxa.length).toBe(16);
    expect(parse("CompareView", compare("July 2025", "July 2026")).design).toBe("paired");
    expect(parse("LakeView", bare.lake).max_depth_m).toBeNull();
  });

  it("a missing field that may be missing becomes null", () => {
    const { to_m: _, ...open } = { from_m: 1, to_m: 2, geometry: { type: "Polygon" } };
    expect(parse("BandView", open).to_m).toBeNull();
  });

  it.each([
    ["a text for a number", { ...lake, area_m2: "660000" }, "LakeView.area_m2"],
    ["nothing for a number", { ...lake, area_m2: null }, "LakeView.area_m2"],
    ["a number that is none", { ...lake, area_m2: Number.NaN }, "LakeView.area_m2"],
    ["an object for a list", { ...lake, zones: {} }, "LakeView.zones"],
    [
      "a fault deep inside",
      { ...lake, zones: [{ ...lake.zones[0], code: 1 }] },
      "LakeView.zones[0].code",
    ],
  ])("%s is refused with the place it stands at", (_, value, place) => {
    expect(() => parse("LakeView", value)).toThrow(ShapeError);
    expect(() => parse("LakeView", value)).toThrow(`\`${place}\``);
  });
});
