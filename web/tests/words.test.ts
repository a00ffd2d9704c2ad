import { describe, expect, it } from "vitest";
import { lake as lakeFixture } from "../fixtures/lake.mjs";
import { bare, compare, findings, surveyList } from "../fixtures/surveys.mjs";
import { parse } from "../src/api/shape";
import { unitsOf } from "../src/units/units";
import { inOrder, lead, pValue, spansTreatment, warningWords, whole } from "../src/words/compare";
import { dateRange, keptAt, monthYear } from "../src/words/dates";
import { findingsAnswer } from "../src/words/findings";
import { lakeAnswer, lakeMeasures, plain } from "../src/words/lake";

const us = unitsOf("us");
const lake = parse("LakeView", lakeFixture);
const view = parse("FindingsView", findings("July 2026"));

describe("How deep, and where?", () => {
  it("is answered with area, depth and littoral zone", () => {
    expect(plain(lakeAnswer(lake, us))).toMatch(
      /^Lake Tamarin covers 136 acres and is [\d.]+\u00a0ft at its deepest\. Plants can be looked for on the 73 acres shallower than 15\u00a0ft\.$/,
    );
  });
  it("says so when no depth is known, and leaves unknown measures out", () => {
    const empty = parse("LakeView", bare.lake);
    expect(plain(lakeAnswer(empty, us))).toBe(
      "Lake Tamarin covers 136 acres. How deep it is, this book does not know yet.",
    );
    expect(lakeMeasures(empty, us).map(([name]) => name)).not.toContain("Volume");
  });
});

describe("What lives here?", () => {
  it("names the number of kinds, the commonest and the worst introduced one", () => {
    const [first] = view.taxa;
    const milfoil = view.taxa.find((taxon) => taxon.code === "MYSP");
    expect(plain(findingsAnswer(view, us))).toBe(
      `16 kinds of plant, two of them introduced. Coontail is the commonest; Eurasian watermilfoil stands at ${milfoil?.sites} of 80 sites.`,
    );
    expect(first?.code).toBe("CEDE");
  });

  it("a survey that named no plants speaks of plants as a whole", () => {
    const unnamed = parse("FindingsView", findings("August 2021"));
    expect(plain(findingsAnswer(unnamed, us))).toMatch(
      /^Plants came up at \d+ of 80 sites, down to 15.5\u00a0ft\. Their kinds were not named\.$/,
    );
  });

  it("a survey not yet sampled claims nothing", () => {
    const none = { ...view, sites: { ...view.sites, sampled: 0 } };
    expect(plain(findingsAnswer(none, us))).toBe("No site of this survey has been sampled yet.");
  });
});

describe("What changed?", () => {
  const compared = parse("CompareView", compare("July 2025", "July 2026"));
  const [to, from] = surveyList.map((survey) => parse("SurveyView", survey));

  it("asks whether it worked only between a survey before a treatment and one after it", () => {
    expect(spansTreatment(from, to)).toBe(true);
    expect(spansTreatment(to, from)).toBe(false);
    expect(spansTreatment(undefined, to)).toBe(false);
  });
  it("puts changes that were shown first", () => {
    const verdicts = inOrder(compared).map((change) => change.verdict);
    const first = verdicts.indexOf("cannot tell");
    expect(verdicts.slice(first).every((verdict) => verdict === "cannot tell")).toBe(true);
  });
  it("sets the lead of a sentence apart, a number's colon not", () => {
    expect(lead("Cannot tell, for the natives: no loss was shown.")).toEqual({
      lead: "Cannot tell, for the natives:",
      rest: " no loss was shown.",
    });
    expect(lead("Cannot tell. No loss was shown.").lead).toBe("Cannot tell.");
    expect(lead("No change was shown.").lead).toBe("No");
    expect(lead("Fourteen sites lost it.")).toEqual({ lead: "", rest: "Fourteen sites lost it." });
  });
  it("says once what a warning is about", () => {
    expect(warningWords("observers", "different crew: A.M. and J.R.")).toEqual({
      lead: "Different crew.",
      rest: "A.M. and J.R.",
    });
    expect(warningWords("scale", "the first used handfuls")).toEqual({
      lead: "Different scale.",
      rest: "The first used handfuls.",
    });
  });
  it("never writes a p value of zero", () => {
    expect(pValue(0.00004)).toBe("below 0.001");
    expect(pValue(0.0093)).toBe("0.009");
    expect(pValue(0.304)).toBe("0.30");
  });
});

describe("dates", () => {
  it("are written out", () => {
    expect(monthYear("2026-07-14")).toBe("July 2026");
    expect(dateRange("2026-07-14", "2026-07-16")).toBe("14 to 16 July 2026");
    expect(dateRange("2026-07-30", "2026-08-02")).toBe("30 July to 2 August 2026");
    expect(dateRange("2026-07-14", null)).toBe("14 July 2026");
    expect(dateRange(null, null)).toBe("");
    expect(monthYear("soon")).toBe("soon");
  });
  it("a save of today is a time, an older one a day", () => {
    const now = new Date(2026, 7, 2, 15, 0);
    expect(keptAt(new Date(2026, 7, 2, 14, 32).toISOString(), now)).toBe("14:32");
    expect(keptAt(new Date(2026, 7, 1, 14, 32).toISOString(), now)).toBe("1 Aug 2026");
  });
});

describe("sentences from the server", () => {
  it("get their capital and their full stop once", () => {
    expect(whole("cannot tell for 15 of 16 species: no loss was shown")).toBe(
      "Cannot tell for 15 of 16 species: no loss was shown.",
    );
    expect(whole("Fell.")).toBe("Fell.");
  });
});
