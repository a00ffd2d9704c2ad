import { describe, expect, it } from "vitest";
import { withMeaning } from "../src/entry/mapping";

const MAP = `form = "wide"
ignore = ["photos"]

[columns]
depth = "Z"
site = "PT_"

[taxa]
Egeria = "Egeria densa"
`;

describe("the map of a file's columns", () => {
  it("takes a column for something else and leaves the rest as it was", () => {
    expect(withMeaning(MAP, "Zmax", "depth")).toBe(`form = "wide"
ignore = ["photos"]

[columns]
site = "PT_"
depth = "Zmax"

[taxa]
Egeria = "Egeria densa"
`);
  });
  it("a column that is left out means nothing any more", () => {
    const left = withMeaning(MAP, "Z", "ignored");
    expect(left).toContain(`ignore = ["photos","Z"]`);
    expect(left).not.toContain("depth");
  });
  it("a column left out may be read again, as the ratings of a plant", () => {
    const read = withMeaning(MAP, "Photos", "taxon_column", "Chara");
    expect(read).not.toContain("ignore");
    expect(read).toContain(`"Photos" = "Chara"`);
  });
  it("an empty map is begun", () => {
    expect(withMeaning("", "WYPT", "site")).toBe(`\n[columns]\nsite = "WYPT"\n`);
  });
});
