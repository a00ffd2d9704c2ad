import { describe, expect, it } from "vitest";
import type { ZoneView } from "../src/api/contract";
import { unitsOf } from "../src/units/units";
import { zoneRows, zoneYears } from "../src/words/zones";

const zone: ZoneView = {
  code: "W1",
  name: "West Bay",
  area_m2: 4046.8564224 * 12,
  littoral_area_m2: 4046.8564224 * 5.5,
  mean_depth_m: 3.048,
  volume_m3: 1233.48183754752 * 120,
  shore_m: 1609.344,
  protection: "conservation",
  rule: "no motors",
  since: 2019,
  until: null,
  sub_areas: 0,
};

describe("zones in full", () => {
  it("every figure stands in the reader's units", () => {
    // an acre is 43,560 square feet, an acre-foot 43,560 cubic feet, a mile 5,280 feet
    const [row] = zoneRows([zone], unitsOf("us"));
    expect(row).toMatchObject({
      area: "12.0",
      littoral: "5.5",
      rule: "conservation area: no motors",
    });
    expect(row?.volume.replace(/\s/g, " ")).toMatch(/^120 ac-ft$/);
    expect(row?.shore).toMatch(/^1\.00?.mi/);
    expect(row?.depth).toMatch(/^10\.0$/);
    expect(zoneRows([zone], unitsOf("metric"))[0]?.depth).toMatch(/^3\.0$/);
  });
  it("what is not known is left empty, not nought", () => {
    const bare = { ...zone, littoral_area_m2: null, mean_depth_m: null, volume_m3: null };
    expect(zoneRows([bare], unitsOf("us"))[0]).toMatchObject({
      littoral: "",
      depth: "",
      volume: "",
    });
  });
  it("years of use are told, and the years worth looking at offered", () => {
    const use = (since: number | null, until: number | null) =>
      zoneRows([{ ...zone, since, until }], unitsOf("us"))[0]?.use;
    expect([use(null, null), use(2019, null), use(null, 2021), use(2019, 2021)]).toEqual([
      "always",
      "since 2019",
      "until 2021",
      "2019 to 2021",
    ]);
    expect(zoneYears([zone], ["2017-07-02", null, "2019-06-30"])).toEqual([2019, 2018, 2017]);
  });
});
