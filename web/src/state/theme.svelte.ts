export type ThemeName = "light" | "contrast";
const KEY = "quillwort.theme";

function first(): ThemeName {
  try {
    const kept = localStorage.getItem(KEY);
    if (kept === "light" || kept === "contrast") return kept;
  } catch {
    // a browser that keeps nothing starts over each time
  }
  return matchMedia("(prefers-contrast: more)").matches ? "contrast" : "light";
}

/** Light or high contrast; the choice stays in this browser. */
class Theme {
  name = $state<ThemeName>(first());

  toggle(): void {
    this.name = this.name === "light" ? "contrast" : "light";
    try {
      localStorage.setItem(KEY, this.name);
    } catch {
      // see above
    }
  }
}

export const theme = new Theme();
