import { describe, expect, it } from "vitest";
import type { AddView } from "../src/api/contract";
import { unitsOf } from "../src/units/units";
import { dayWords, fileWords, kindOf, offers, readWords, skippedWords } from "../src/words/file";

const view: AddView = {
  kind: "depths",
  file: "soundings.csv",
  preview: true,
  crs: "EPSG:26915",
  read: 12,
  stored: 0,
  extent: null,
  place: null,
  shapes: [],
  cells: [],
  cell_size: null,
  area_m2: null,
  depth_m: [0.3048, 3.048],
  skipped: [],
  warnings: [],
  control_points: [],
  warp: null,
  residual_m: null,
};

it("how depths were measured goes in metres, and what is not said not at all", () => {
  const feet = unitsOf("us");
  expect(dayWords({ level: "", side: "above", transducer: "" }, feet)).toEqual({});
  expect(dayWords({ level: null, side: "below", transducer: 0 }, feet)).toEqual({});
  const said = dayWords({ level: 2, side: "below", transducer: "1" }, feet);
  expect(Number(said.water_level_m)).toBeCloseTo(-0.6096, 9);
  expect(Number(said.transducer_m)).toBeCloseTo(0.3048, 9);
  expect(dayWords({ level: "0.5", side: "above", transducer: "" }, unitsOf("metric"))).toEqual({
    water_level_m: "0.5",
  });
});

describe("a file looked at before it is kept", () => {
  it("its name says what it most likely holds", () => {
    expect(kindOf("lake-outline.geojson")).toBe("outline");
    expect(kindOf("soundings 2019.csv")).toBe("depths");
    expect(kindOf("zones.kml")).toBe("zones");
    expect(kindOf("lake_contours.zip")).toBe("contours");
    expect(kindOf("0412.nmea")).toBe("depths");
    expect(kindOf("notes.doc")).toBeUndefined();
  });
  it("a slip is offered its correction", () => {
    const said =
      "write western longitudes with a minus sign, or add `--fix` to have it corrected on the way in";
    expect(offers(said)).toEqual([
      { field: "fix", value: "true", words: "Correct it on the way in" },
    ]);
    expect(fileWords(said)).toBe("Write western longitudes with a minus sign.");
    expect(
      offers("add `--crs EPSG:26916`, or add `--fix` to have it corrected on the way in")[1],
    ).toEqual({
      field: "crs",
      value: "EPSG:26916",
      words: "Read it in EPSG:26916",
    });
  });
  it("feet read as metres is one button, a unit that is not said is two", () => {
    expect(offers("feet look to be read as metres: say `--unit ft`")).toEqual([
      { field: "unit", value: "ft", words: "Read the depths as feet" },
    ]);
    expect(fileWords("feet look to be read as metres: say `--unit ft`")).toBe(
      "Feet look to be read as metres.",
    );
    expect(offers("say it with `--unit ft` or the other one").map((one) => one.value)).toEqual([
      "ft",
      "m",
    ]);
    expect(fileWords("say it with `--unit ft` or the other one")).toBe("");
  });
  it("what the reader has to say gets a field", () => {
    const hint =
      "say it with `--crs EPSG:n`; a shapefile's `.prj` file, when kept beside it, says it too";
    expect(offers(hint)[0]).toMatchObject({ field: "crs", value: null });
    expect(fileWords(hint)).toBe("A shapefile's .prj file, when kept beside it, says it too.");
    expect(offers("say which with `--depth-column`; it has `z1`, `z2`")[0]?.field).toBe(
      "depth_column",
    );
    expect(fileWords("say which with `--depth-column`; it has `z1`, `z2`")).toBe("It has z1, z2.");
    expect(offers("choose one with `--layer NAME`: Mud, Long")[0]?.field).toBe("layer");
    expect(
      offers("say the elevation of the water with `--surface`, in the same unit")[0]?.field,
    ).toBe("surface");
  });
  it("the file's own name is not said twice", () => {
    expect(fileWords("`a b.csv`: 3 of 9 positions lie outside\n`a b.csv`: it falls far")).toBe(
      "3 of 9 positions lie outside; it falls far.",
    );
  });
  it("the field for the elevation of the water stands above what went wrong", () => {
    expect(fileWords("say the elevation of the water with `--surface`, in the same unit")).toBe(
      "Say the elevation of the water above, in the same unit.",
    );
  });

  it("what was read is a sentence, what was skipped stands by its reason", () => {
    expect(readWords(view, unitsOf("us"))).toMatch(
      /^12 depths read, 1\.0 to 10\.0 feet deep, in EPSG:26915\.$/,
    );
    expect(
      readWords({ ...view, skipped: [{ row: 3, reason: "no depth" }] }, unitsOf("us")),
    ).toMatch(/^11 of 12 depths read/);
    expect(
      skippedWords([
        { row: 3, reason: "no depth" },
        { row: 5, reason: "no depth" },
        { row: 6, reason: "on land" },
      ]),
    ).toEqual([
      { reason: "No depth.", rows: "rows 3, 5" },
      { reason: "On land.", rows: "row 6" },
    ]);
  });
});
