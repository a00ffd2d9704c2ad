// Where do they go? The layouts, each with a sentence of changeable words.
import type { BookView, MapView } from "../api/contract";
import type { Units } from "../units/units";
import { type Chosen, choice, figure, type Part } from "./blanks";
import { fixed } from "./numbers";

export const LAYOUTS = [
  {
    key: "point-grid",
    name: "Even grid of points",
    hint: "same spacing everywhere; easiest to find and to repeat",
  },
  {
    key: "balanced",
    name: "At random, evenly spread",
    hint: "a sample whose shares hold for the whole water; with spares",
  },
  {
    key: "sub-areas",
    name: "One in each sub-area",
    hint: "pieces of near equal area; none is missed",
  },
  {
    key: "shore-sections",
    name: "Sections along the shore",
    hint: "each owns the shallow water nearest to it; needs no depths",
  },
  { key: "squares", name: "Squares", hint: "search the whole of each square; needs no depths" },
  { key: "panel", name: "Some every year, some in turn", hint: "a trend and the whole lake, too" },
  { key: "again", name: "Last survey's sites again", hint: "the surest way to see a change" },
] as const;
export type LayoutKey = (typeof LAYOUTS)[number]["key"];

/** Layouts that are compared with each other; the program's names. */
export const COMPARED = [
  "point-grid",
  "balanced",
  "sub-areas",
  "squares",
  "shore-sections",
  "simple-random",
] as const;

export const isLayout = (word: string | null): word is LayoutKey =>
  LAYOUTS.some((layout) => layout.key === word);

/** Layouts that ask nothing of the depth. */
export const NEEDS_NO_DEPTH: readonly LayoutKey[] = ["shore-sections", "squares"];

const DRAW = figure("seed", "Number that draws the sample", 1, { min: 0, width: 4 });

/** The sentence of a layout; the figures are in the book's own units. */
export function layoutSentence(
  layout: LayoutKey,
  chosen: Chosen,
  units: Units,
  book: BookView,
  map: MapView,
  sites: number,
): Part[] {
  const us = units.system === "us";
  const far = us ? "ft" : "m";
  const wide = us ? "acres" : "hectares";
  const turn = figure("turn", "Turned, degrees clockwise", 0, { min: -90, max: 90, width: 2 });
  switch (layout) {
    case "point-grid": {
      const by = chosen("by") ?? "sites";
      const kind = choice("by", "By number or by spacing", "sites", [
        ["sites", "this many points:"],
        ["spacing", "a point every"],
      ]);
      const size =
        by === "spacing"
          ? [
              figure("spacing", `Distance between points, ${far}`, us ? 200 : 60, { min: 1 }),
              ` ${far}`,
            ]
          : [figure("sites", "Number of sites", sites, { min: 1 })];
      return ["Lay ", kind, " ", ...size, ", turned ", turn, "° from north."];
    }
    case "sub-areas": {
      const own = map.sub_areas.length > 0;
      const cut = chosen("cut") ?? (own ? "own" : "area");
      const kind = choice("cut", "Which sub-areas", own ? "own" : "area", [
        ...(own ? [["own", `the book's ${fixed(map.sub_areas.length)} sub-areas`] as const] : []),
        ["area", "pieces of about"],
        ["number", "this many pieces:"],
      ]);
      const size =
        cut === "area"
          ? [figure("area", `Area of a piece, ${wide}`, us ? 1 : 0.4, { min: 0.01 }), ` ${wide}`]
          : cut === "number"
            ? [figure("sites", "Number of pieces", sites, { min: 1 })]
            : [];
      return ["A site in each of ", kind, " ", ...size, "."];
    }
    case "shore-sections": {
      const beyond = chosen("beyond") ?? "no";
      return [
        "Sections of ",
        figure("length", `Length of a section, ${far}`, us ? 200 : 60, { min: 1 }),
        ` ${far} of shore`,
        choice("at_landmarks", "Where sections end", "no", [
          ["no", ", measured from the first,"],
          ["yes", ", ending on landmarks,"],
        ]),
        " and the water beyond them ",
        choice("beyond", "The water beyond the sections", "no", [
          ["no", "left out."],
          ["yes", "in pieces of"],
        ]),
        ...(beyond === "yes"
          ? [
              " ",
              figure("area", `Area of an offshore piece, ${wide}`, us ? 2 : 0.8, { min: 0.01 }),
              ` ${wide}.`,
            ]
          : []),
      ];
    }
    case "squares":
      return [
        "Squares of ",
        figure("side", `Side of a square, ${far}`, us ? 250 : 75, { min: 1 }),
        ` ${far} a side, turned `,
        turn,
        "°; a piece of a square at the shore ",
        choice("merge", "Pieces of squares at the shore", "0.3", [
          ["0", "is kept."],
          ["0.3", "joins its neighbour when small."],
          ["0.5", "joins its neighbour when under half."],
        ]),
      ];
    case "balanced":
      return [
        "Draw ",
        figure("sites", "Number of sites", sites, { min: 1 }),
        " sites and ",
        figure("spares", "Number of spare sites", 10, { min: 0, width: 2 }),
        " spares over ",
        choice("strata", "Drawn over", "", [
          ["", "all this water"],
          ["zone", "each zone by itself"],
          ["depth", "shallow, middle and deep water"],
        ]),
        ", with the number ",
        DRAW,
        ".",
      ];
    case "panel":
      return [
        figure("sites", "Sites a year", sites, { min: 1 }),
        " sites a year: ",
        figure("every_year", "Sites of every year", Math.round(sites / 3), { min: 0, width: 2 }),
        " of them every year, the others in turn over ",
        figure("years", "Years until the turn is round", 3, { min: 2, max: 10, width: 1 }),
        " years; drawn with the number ",
        DRAW,
        ".",
      ];
    case "again":
      return [
        "The sites of ",
        choice(
          "earlier",
          "Earlier survey",
          book.surveys[0]?.name ?? "",
          book.surveys.map((survey) => [survey.name, survey.name] as const),
        ),
        ", with the same numbers.",
      ];
  }
}

/** The water the sites may lie in. */
export function waterSentence(units: Units, littoral: { min: number; max: number } | null): Part[] {
  const unit = units.depthUnit;
  const tenth = (metres: number) => Math.round(units.depthIn(metres) * 10) / 10;
  return [
    "In water from ",
    figure("from_depth", `Shallowest water, ${unit}`, littoral ? tenth(littoral.min) : 0),
    " to ",
    figure("to_depth", `Deepest water, ${unit}`, littoral ? tenth(littoral.max) : ""),
    ` ${unit} deep.`,
  ];
}

/** What the balance of a layout says; 0 is perfect, 1 as bad as all sites on one spot is far off. */
export function balanceWords(balance: number): string {
  if (balance < 0.1) return "very evenly";
  if (balance < 0.2) return "evenly";
  if (balance < 0.35) return "about as evenly as chance";
  return "unevenly";
}

/** Sites by zone, and by band of depth. */
export function counts(
  sites: readonly { zone: string | null; depth_m: number | null }[],
  bands: readonly { from_m: number; to_m: number | null }[],
): { zones: Map<string, number>; depths: number[]; unknown: number } {
  const zones = new Map<string, number>();
  const depths = bands.map(() => 0);
  let unknown = 0;
  for (const site of sites) {
    if (site.zone) zones.set(site.zone, (zones.get(site.zone) ?? 0) + 1);
    const { depth_m: depth } = site;
    const band =
      depth === null
        ? -1
        : bands.findIndex((b) => b.from_m <= depth && (b.to_m === null || depth < b.to_m));
    if (band < 0) unknown++;
    else depths[band] = (depths[band] ?? 0) + 1;
  }
  return { zones, depths, unknown };
}
