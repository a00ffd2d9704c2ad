import { brief, fixed, GAP } from "../words/numbers";

/** Metres in an international foot; yard and pound agreement of 1959. */
export const METRES_PER_FOOT = 0.3048;
/** Square metres in an acre of 43,560 square feet. */
export const SQUARE_METRES_PER_ACRE = 43_560 * METRES_PER_FOOT ** 2;
/** Cubic metres in an acre-foot. */
export const CUBIC_METRES_PER_ACRE_FOOT = 43_560 * METRES_PER_FOOT ** 3;
/** Metres in a mile. */
export const METRES_PER_MILE = 5280 * METRES_PER_FOOT;

/** How a book speaks of lengths, areas and volumes. Everything outside this file is SI. */
export interface Units {
  readonly system: "us" | "metric";
  /** `ft`, `m`. */
  readonly depthUnit: string;
  /** `feet`, `metres`. */
  readonly depthWord: string;
  /** `acres`, `hectares`. */
  readonly areaWord: string;
  /** `ac`, `ha`. */
  readonly areaUnit: string;
  /** `acre-feet`, `thousand m³`: of an axis. */
  readonly volumeWord: string;
  /** Volume in the unit of an axis. */
  volumeIn(cubicMetres: number): number;
  /** Depth in the book's unit. */
  depthIn(metres: number): number;
  /** Metres of a depth in the book's unit. */
  depthFrom(value: number): number;
  /** Area in the book's unit. */
  areaIn(squareMetres: number): number;
  /** `14.5 ft`. */
  depth(metres: number): string;
  /** `163 acres` in a sentence. */
  areaInWords(squareMetres: number): string;
  /** `163.4 ac`. */
  area(squareMetres: number): string;
  /** A patch too small for that: `1,720 sq ft`; one that is not, as above. */
  patch(squareMetres: number): string;
  /** `2,127 ac-ft`. */
  volume(cubicMetres: number): string;
  /** A shore, a longest reach: `2.58 mi`. */
  longLength(metres: number): string;
  /** On the ground: `500 ft`. */
  length(metres: number): string;
  /** Lengths of a scale bar to choose from, metres with their words, short first. */
  readonly bars: readonly { metres: number; words: string }[];
  /** Steps of a depth axis to choose from, metres. */
  readonly depthSteps: readonly number[];
}

const significant = (value: number): string => fixed(value, value < 10 ? 2 : value < 1000 ? 1 : 0);

const US: Units = {
  system: "us",
  depthUnit: "ft",
  depthWord: "feet",
  areaWord: "acres",
  areaUnit: "ac",
  volumeWord: "acre-feet",
  volumeIn: (volume) => volume / CUBIC_METRES_PER_ACRE_FOOT,
  depthIn: (metres) => metres / METRES_PER_FOOT,
  depthFrom: (feet) => feet * METRES_PER_FOOT,
  areaIn: (squareMetres) => squareMetres / SQUARE_METRES_PER_ACRE,
  depth: (metres) => `${brief(metres / METRES_PER_FOOT)}${GAP}ft`,
  areaInWords: (area) => {
    const acres = area / SQUARE_METRES_PER_ACRE;
    return `${brief(acres, acres < 10 ? 1 : 0)} acres`;
  },
  area: (area) => `${fixed(area / SQUARE_METRES_PER_ACRE, 1)}${GAP}ac`,
  patch: (area) =>
    area < SQUARE_METRES_PER_ACRE / 5
      ? `${fixed(area / METRES_PER_FOOT ** 2)}${GAP}sq${GAP}ft`
      : US.area(area),
  volume: (volume) => `${fixed(volume / CUBIC_METRES_PER_ACRE_FOOT)}${GAP}ac-ft`,
  longLength: (metres) => `${significant(metres / METRES_PER_MILE)}${GAP}mi`,
  length: (metres) => `${fixed(metres / METRES_PER_FOOT)}${GAP}ft`,
  bars: [
    ...[25, 50, 100, 250, 500, 1000, 2000].map((feet) => ({
      metres: feet * METRES_PER_FOOT,
      words: `${fixed(feet)}${GAP}ft`,
    })),
    ...[0.5, 1, 2, 5, 10].map((miles) => ({
      metres: miles * METRES_PER_MILE,
      words: `${brief(miles)}${GAP}mi`,
    })),
  ],
  depthSteps: [1, 2, 5, 10, 20, 50, 100, 200].map((feet) => feet * METRES_PER_FOOT),
};

const METRIC: Units = {
  system: "metric",
  depthUnit: "m",
  depthWord: "metres",
  areaWord: "hectares",
  areaUnit: "ha",
  volumeWord: "thousand m³",
  volumeIn: (volume) => volume / 1000,
  depthIn: (metres) => metres,
  depthFrom: (metres) => metres,
  areaIn: (squareMetres) => squareMetres / 10_000,
  depth: (metres) => `${brief(metres)}${GAP}m`,
  areaInWords: (area) => `${brief(area / 10_000, area < 100_000 ? 1 : 0)} hectares`,
  area: (area) => `${fixed(area / 10_000, 1)}${GAP}ha`,
  patch: (area) => (area < 2000 ? `${fixed(area)}${GAP}m²` : METRIC.area(area)),
  volume: (volume) =>
    volume < 1e6 ? `${fixed(volume)}${GAP}m³` : `${significant(volume / 1e6)} million${GAP}m³`,
  longLength: (metres) => `${significant(metres / 1000)}${GAP}km`,
  length: (metres) => `${fixed(metres)}${GAP}m`,
  bars: [10, 25, 50, 100, 250, 500, 1000, 2000, 5000, 10_000, 20_000].map((metres) => ({
    metres,
    words: metres < 1000 ? `${metres}${GAP}m` : `${metres / 1000}${GAP}km`,
  })),
  depthSteps: [0.25, 0.5, 1, 2, 5, 10, 20, 50],
};

/** The units of a book. */
export const unitsOf = (system: string): Units => (system === "metric" ? METRIC : US);
