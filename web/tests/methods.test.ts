import { readFileSync } from "node:fs";
import { describe, expect, it } from "vitest";
import { anchor, entries, inline, METHODS } from "../scripts/methods.mjs";

const found = entries(readFileSync(METHODS, "utf8"));

describe("the notes on methods", () => {
  it("make an entry of every heading, each under its own anchor", () => {
    const headings = readFileSync(METHODS, "utf8").match(/^#{1,4} .+$/gm) ?? [];
    expect(found.length).toBe(headings.length);
    expect(new Set(found.map(({ id }) => id)).size).toBe(found.length);
  });
  it("anchors are those that the file's own links lead to", () => {
    const ids = new Set(found.map(({ id }) => id));
    const links = readFileSync(METHODS, "utf8").matchAll(/\]\(#([^)]+)\)/g);
    for (const [, id] of links) expect(ids).toContain(id);
    expect(anchor("McNemar's test, mid-P")).toBe("mcnemars-test-mid-p");
  });
  it("leave no mark of the file unread", () => {
    for (const { title, html } of found) {
      const text = (title + html).replace(/<pre[\s\S]*?<\/pre>|<code>[\s\S]*?<\/code>/g, "");
      expect(text, title).not.toMatch(/\*\*|`|\]\(|^\|/m);
    }
  });
  it("escape what is no mark", () => {
    expect(inline("a < b & `x < y` *em* **strong** [here](#there) 2 * 3")).toBe(
      'a &lt; b &amp; <code>x &lt; y</code> <em>em</em> <strong>strong</strong> <a href="#there">here</a> 2 * 3',
    );
  });
});
