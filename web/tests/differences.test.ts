import { expect, it } from "vitest";
import type { EntryDifferenceView, VisitBody } from "../src/api/contract";
import { differencesOf } from "../src/entry/differences";
import { Scale } from "../src/entry/scale";
import { Finder } from "../src/entry/taxa";
import { ThrowReader } from "../src/entry/throws";
import { unitsOf } from "../src/units/units";

const reader = new ThrowReader(
  new Finder(
    ["CEDE", "CHAR"].map((code) => ({
      code,
      commonName: code,
      scientificName: code,
      oldNames: [],
      introduced: false,
      unknown: false,
      found: 0,
    })),
  ),
  new Scale(
    ["0", "T", "S", "M", "D"].map((code, value) => ({ code, name: code, measure: "", value })),
  ),
);
const visit = (words: Partial<VisitBody>): VisitBody => ({
  time: null,
  depth_m: null,
  sediment: null,
  not_sampled: null,
  throws: [],
  reported_species: null,
  reported_native_species: null,
  lon: null,
  lat: null,
  accuracy_m: null,
  observer: "",
  note: "",
  ...words,
});
const thrown = (...finds: string[]) => ({
  number: 1,
  total: null,
  observations: finds.map((find) => {
    const [taxon = "", rating = ""] = find.split(" ");
    return { taxon, rating, seen: "rake" };
  }),
});
const differ = (
  site: string,
  fields: string[],
  first: VisitBody | null,
  second: VisitBody,
): EntryDifferenceView => ({
  site,
  first_by: "Ann",
  second_by: "Ben",
  fields: fields.map((field) => ({ field, current: "a", other: "b" })),
  first,
  second,
});
const rows = [{ site: "2" }, { site: "1" }];
const list = (different: EntryDifferenceView[]) =>
  differencesOf(different, rows, reader, unitsOf("us"));

it("tells box by box what each of the two has, in the order of the sheets", () => {
  const first = visit({ depth_m: 1.9812, throws: [thrown("CEDE M", "CHAR S")] });
  const second = visit({ depth_m: 1.6764, throws: [thrown("CEDE D")] });
  const told = list([
    differ("1", ["depth", "throw 1, CEDE", "throw 1, CHAR"], first, second),
    differ("2", ["depth"], null, second),
  ]);
  expect(told.map((one) => [one.site, one.pairs])).toEqual([
    ["2", [{ box: "depth", first: "", second: "5.5 ft", plants: false }]],
    ["1", [{ box: "depth", first: "6.5 ft", second: "5.5 ft", plants: false }]],
    ["1", [{ box: "throw 1", first: "CEDE M  CHAR S", second: "CEDE D", plants: true }]],
  ]);
});

it("makes one choice of what came of a site and its throws", () => {
  const first = visit({ throws: [thrown("CEDE M")], note: "lilies" });
  const second = visit({ not_sampled: "not-navigable-plants" });
  const told = list([differ("1", ["note", "outcome", "throw 1", "throw 1, CEDE"], first, second)]);
  expect(told.map((one) => one.pairs.map((pair) => pair.box))).toEqual([
    ["note"],
    ["throw 1", "outcome"],
  ]);
  expect(told[1]?.pairs).toEqual([
    { box: "throw 1", first: "CEDE M", second: "", plants: true },
    { box: "outcome", first: "", second: "plants stop the boat", plants: false },
  ]);
});
