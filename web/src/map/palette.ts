import type { ThemeName } from "../state/theme.svelte";

/** ColorBrewer Blues, classes 2 to 8 of 9 (Brewer 2003): light is shallow. */
const BLUES = [
  "#DEEBF7",
  "#C6DBEF",
  "#9ECAE1",
  "#6BAED6",
  "#4292C6",
  "#2171B5",
  "#08519C",
] as const;
/** The same for a lake that lies beneath something else. */
const QUIET = ["#F4F8FC", "#EAF2F9", "#DEEBF7", "#D3E4F3"] as const;

/** Colours of the canvas; the style sheet holds the same ones by name. */
export interface Ink {
  readonly paper: string;
  readonly land: string;
  readonly ink: string;
  readonly second: string;
  readonly accent: string;
  readonly plant: string;
  readonly navy: string;
}

const INKS: Record<ThemeName, Ink> = {
  light: {
    paper: "#FBF8F1",
    land: "#F4EDDD",
    ink: "#1F2529",
    second: "#4C5459",
    accent: "#9C1458",
    plant: "#14634B",
    navy: "#08306B",
  },
  contrast: {
    paper: "#FFFFFF",
    land: "#FFFFFF",
    ink: "#000000",
    second: "#333333",
    accent: "#7A0040",
    plant: "#0B4031",
    navy: "#000000",
  },
};

export const inkOf = (theme: ThemeName): Ink => INKS[theme];

/** Place of a band in a ramp of so many steps, first and last always used when there are two. */
function step(band: number, bands: number, steps: number): number {
  if (bands <= 1) return Math.min(2, steps - 1);
  if (bands === steps) return band;
  return bands < steps
    ? Math.round((band * (steps - 1)) / (bands - 1))
    : Math.floor((band * steps) / bands);
}

/** Colour of the water of a band, shallow first. */
export function depthColour(band: number, bands: number, quiet: boolean): string {
  if (quiet) return QUIET[Math.min(band, QUIET.length - 1)] ?? QUIET[0];
  return BLUES[step(band, bands, BLUES.length)] ?? BLUES[0];
}

/**
 * ColorBrewer Oranges, classes 1 to 5 of 9 (Brewer 2003): light is near. All are light enough for ink to
 * be read on them.
 */
const ORANGES = ["#FFF5EB", "#FEE6CE", "#FDD0A2", "#FDAE6B", "#FD8D3C"] as const;

/** Colour of the water by its distance to the nearest depth, near first. */
export function distanceColour(band: number, bands: number): string {
  return ORANGES[Math.min(band + Math.max(0, ORANGES.length - bands), 4)] ?? ORANGES[0];
}

/** Lettering and its halo on the water of a band. */
export function lettering(band: number, bands: number, ink: Ink): { text: string; halo: string } {
  const place = step(band, bands, BLUES.length);
  const water = depthColour(band, bands, false);
  if (place <= 2) return { text: ink.ink, halo: water };
  if (place === 3) return { text: "#08306B", halo: water };
  return { text: "#FFFFFF", halo: place === 4 ? "#2171B5" : water };
}
