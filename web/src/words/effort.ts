// How many throws are enough? Purposes, their changeable words, the answer.
import type { EffortView } from "../api/contract";
import type { Units } from "../units/units";
import { MINUS, percent, round, THIN } from "./numbers";

export const PURPOSES = [
  {
    key: "richness",
    name: "List what grows here",
    hint: "nearly every kind, at least once",
  },
  {
    key: "detect",
    name: "Find an invader while it is still rare",
    hint: "one plant, before it spreads",
  },
  {
    key: "estimate",
    name: "Say how common each plant is",
    hint: "a percentage with its interval",
  },
  {
    key: "change",
    name: "Show a change between two surveys",
    hint: "the same lake, another year",
  },
  {
    key: "treatment",
    name: "Show whether a treatment worked",
    hint: "before and after, in the treated water",
  },
  {
    key: "delineate",
    name: "Draw the beds for a treatment",
    hint: "the acreage of one bed",
  },
] as const;
export type PurposeKey = (typeof PURPOSES)[number]["key"];

export const isPurpose = (word: string | null): word is PurposeKey =>
  PURPOSES.some((purpose) => purpose.key === word);

/** A changeable word: what it is called, what it can be, and what it is at first. */
export interface Word {
  readonly key: string;
  readonly label: string;
  readonly usual: string;
  readonly choices: readonly (readonly [value: string, words: string])[];
}

const oneIn = (n: number): readonly [string, string] => [String(1 / n), `1 site in ${n}`];
const share = (hundredths: number): readonly [string, string] => [
  String(hundredths / 100),
  `${hundredths}${THIN}%`,
];
const CONFIDENCE = ["0.8", "0.9", "0.95", "0.99"].map(
  (value) => [value, percent(Number(value))] as const,
);
const times = (value: string): readonly [string, string] => {
  const hundred = round(Number(value) * 100);
  if (hundred === 100) return [value, "every time"];
  return [value, hundred % 10 === 0 ? `${hundred / 10} times in 10` : `${hundred} times in 100`];
};

const SURE: Word = {
  key: "confidence",
  label: "How sure",
  usual: "0.95",
  choices: CONFIDENCE,
};
const THROWS: Word = {
  key: "throws",
  label: "Throws at a site",
  usual: "2",
  choices: [
    ["1", "1 throw"],
    ["2", "2 throws"],
    ["3", "3 throws"],
    ["4", "4 throws"],
  ],
};
const DETECTION: Word = {
  key: "detection",
  label: "How often one throw finds a plant that grows there",
  usual: "0.63",
  choices: ["0.2", "0.3", "0.4", "0.5", "0.6", "0.63", "0.7", "0.8", "0.9", "1"].map(times),
};

const SQUARE_METRES_PER_ACRE = 4046.8564224;
/** Beds to be found; the value is square metres. */
function beds(units: Units): readonly (readonly [string, string])[] {
  if (units.system === "metric") {
    return [500, 1000, 2500, 5000, 10_000].map((area) => [
      `bed:${area}`,
      area < 10_000 ? `in one bed of ${area}\u00a0m²` : "in one bed of a hectare",
    ]);
  }
  const names: readonly (readonly [number, string])[] = [
    [0.1, "a tenth of an acre"],
    [0.25, "a quarter acre"],
    [0.5, "half an acre"],
    [1, "an acre"],
    [2, "two acres"],
  ];
  return names.map(([acres, words]) => [
    `bed:${round(acres * SQUARE_METRES_PER_ACRE, 1)}`,
    `in one bed of ${words}`,
  ]);
}

const shares = [5, 10, 20, 30, 40, 50, 60, 70, 80, 90].map(share);
const rare = [10, 20, 25, 50, 100].map(oneIn);

/** A sentence, with its changeable words in place. */
export type Wanted = readonly (string | Word)[];

/** What the survey must do, in a sentence whose underlined words can be changed. */
export function wanted(purpose: PurposeKey, units: Units): Wanted {
  const plant = (usual: string, choices = rare): Word => ({
    key: "grows",
    label: "Where the plant grows",
    usual,
    choices,
  });
  const finds: Wanted = ["One throw finds it, where it grows, ", DETECTION, ". "];
  const sure: Wanted = ["Be ", SURE, " sure, with ", THROWS, " at a site."];
  const power: Wanted = [
    "Show it ",
    {
      key: "power",
      label: "Chance to show the change when it is there",
      usual: "0.8",
      choices: ["0.7", "0.8", "0.9", "0.95"].map(times),
    },
    ", ",
    SURE,
    " sure that it is no chance, with ",
    THROWS,
    " at a site. ",
  ];
  switch (purpose) {
    case "richness":
      return ["The rarest kind that counts grows at ", plant("0.05"), ". ", ...finds, ...sure];
    case "detect":
      return [
        "The plant grows ",
        plant("0.02", [
          ...rare.map(([value, words]) => [value, `at ${words}`] as const),
          ...beds(units),
        ]),
        ". ",
        ...finds,
        ...sure,
      ];
    case "estimate":
      return [
        "A plant that comes up at about ",
        plant("0.5", shares),
        " of sites, to within ",
        {
          key: "margin",
          label: "How near the share must be",
          usual: "0.1",
          choices: [3, 5, 7, 10, 15].map((m) => [String(m / 100), `±${THIN}${m} points`] as const),
        },
        ". ",
        ...sure,
      ];
    case "change":
    case "treatment":
      return [
        "Before, the plant comes up at ",
        { key: "from", label: "Share of sites before", usual: "0.5", choices: shares },
        " of sites; after, at ",
        { key: "to", label: "Share of sites after", usual: "0.3", choices: shares },
        ". ",
        ...power,
      ];
    case "delineate":
      return [
        "The acreage of a bed of about ",
        {
          key: "patch",
          label: "How large the bed is",
          usual: "",
          choices: [
            ["", units.system === "us" ? "an acre" : "0.4 hectares"],
            ...beds(units).map(
              ([value, words]) =>
                [value.replace("bed:", ""), words.replace("in one bed of ", "")] as const,
            ),
          ],
        },
        ", to within ",
        {
          key: "margin",
          label: "How near the acreage must be",
          usual: "0.2",
          choices: [5, 10, 15, 20, 30].map(
            (m) => [String(m / 100), `±${THIN}${m}${THIN}%`] as const,
          ),
        },
        ". Be ",
        SURE,
        " sure.",
      ];
  }
}

/** What is asked of the program: the words as they stand, under the names it knows. */
export function question(
  purpose: PurposeKey,
  words: Wanted,
  chosen: (key: string) => string | null,
): Record<string, string> {
  const asked: Record<string, string> = { purpose };
  for (const word of words) {
    if (typeof word === "string") continue;
    const value = chosen(word.key) ?? word.usual;
    if (!value) continue;
    if (word.key !== "grows") asked[word.key === "patch" ? "patch_area_m2" : word.key] = value;
    else if (value.startsWith("bed:")) asked.patch_area_m2 = value.slice(4);
    else asked.occupancy = value;
  }
  return asked;
}

/** A sentence of the program with its figures set apart. */
export function withFigures(sentence: string): (string | { figure: string })[] {
  const figure =
    /(?:± )?\d[\d,.]*\d?(?:[\s\u00a0\u202f](?:%|sites|throws?|hours?|acres?|ft|m|points)\b|[\s\u00a0\u202f]%)?/gu;
  const parts: (string | { figure: string })[] = [];
  let from = 0;
  for (const match of sentence.matchAll(figure)) {
    const text = match[0].replace(/[.,]$/, "");
    if (match.index > from) parts.push(sentence.slice(from, match.index));
    parts.push({ figure: text.replace(/ %$/, `${THIN}%`).replace(/^-/, MINUS) });
    from = match.index + text.length;
  }
  if (from < sentence.length) parts.push(sentence.slice(from));
  return parts;
}

/** What the curve says at each number of sites. */
export function curveTitle(purpose: PurposeKey, asked: Record<string, string>): string {
  switch (purpose) {
    case "richness":
      return "Chance to find nine in ten of the kinds";
    case "detect":
      return asked.patch_area_m2
        ? "Chance to find the bed"
        : `Chance to find a plant at 1 site in ${round(1 / Number(asked.occupancy ?? 0.02))}`;
    case "estimate":
      return "Chance that the share comes out so near";
    case "change":
    case "treatment":
      return "Chance to show the change";
    case "delineate":
      return "Chance that the acreage comes out so near";
  }
}

/** Between the virtual surveys by a straight line; none outside them. */
export function between(
  sites: readonly number[],
  values: readonly number[],
  at: number,
): number | null {
  const after = sites.findIndex((n) => n >= at);
  const [n1, v1] = [sites[after], values[after]];
  if (n1 === undefined || v1 === undefined) return null;
  if (n1 === at) return v1;
  const [n0, v0] = [sites[after - 1], values[after - 1]];
  if (n0 === undefined || v0 === undefined) return null;
  return v0 + ((at - n0) / (n1 - n0)) * (v1 - v0);
}

/** Hours of a number of sites, going on straight beyond the virtual surveys. */
export function hoursAt(sites: readonly number[], hours: readonly number[], at: number): number {
  const last = sites.length - 1;
  const inside = between(sites, hours, at);
  if (inside !== null) return inside;
  const [a, b] = at < (sites[0] ?? 0) ? [0, Math.min(1, last)] : [Math.max(0, last - 1), last];
  const [n0 = 0, n1 = 0, h0 = 0, h1 = 0] = [sites[a], sites[b], hours[a], hours[b]];
  return n1 === n0 ? h0 : h0 + ((at - n0) / (n1 - n0)) * (h1 - h0);
}

/** The chance wanted: how sure, or how often the change is shown. */
export const goal = (purpose: PurposeKey, asked: Record<string, string>): number =>
  Number(
    purpose === "change" || purpose === "treatment"
      ? (asked.power ?? 0.8)
      : (asked.confidence ?? 0.95),
  );

/** `9 h 40`. */
export function hoursWords(hours: number): string {
  const minutes = Math.round(hours * 12) * 5;
  const h = Math.floor(minutes / 60);
  const rest = minutes % 60;
  return `${h}\u00a0h${rest ? `\u00a0${String(rest).padStart(2, "0")}` : ""}`;
}

/** What the rule of thumb's number reaches, in words. */
export function ruleReaches(view: EffortView): string {
  const { reaches } = view.rule_of_thumb;
  switch (view.purpose) {
    case "estimate":
      return `±${THIN}${round(reaches * 100)} points`;
    case "delineate":
      return `±${THIN}${round(reaches * 100)}${THIN}%`;
    default:
      return `a chance of ${percent(reaches)}`;
  }
}
