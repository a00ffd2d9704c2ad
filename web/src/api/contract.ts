// Written by scripts/types.mjs from openapi.json; `npm run types` writes it again.

import type { Shape } from "./shape";

/** A share over two denominators. */
export interface AllLittoral {
  /** Of all sampled sites. */
  all: FrequencyView;
  /** Of sampled sites no deeper than the deepest plant. */
  littoral: FrequencyView;
}

/** A share over three denominators. */
export interface AllLittoralVegetated {
  /** Of all sampled sites. */
  all: FrequencyView;
  /** Of sampled sites no deeper than the deepest plant. */
  littoral: FrequencyView;
  /** Of sites with any plant. */
  vegetated: FrequencyView;
}

/** A change after the seal. */
export interface AmendmentView {
  /** When, RFC 3339 in UTC. */
  at: string;
  /** Who. */
  by: string;
  /** Why. */
  why: string;
}

/** Water between two depths. */
export interface BandView {
  /** Shallow side. */
  from_m: number;
  /** GeoJSON geometry. */
  geometry: unknown;
  /** Deep side; none for the deepest band. */
  to_m: number | null;
}

/** One boat's day. */
export interface BoatView {
  /** Number of the boat on its day, from 1. */
  boat: number;
  /** The day, ISO. */
  date: string;
  /** When it is back, local time. */
  finish: string;
  /** Its way leg by leg: one to each site, and one home. */
  legs: LegView[];
  /** Its way by water. */
  length_m: number;
  /** Minutes out, breaks included. */
  minutes: number;
  /** Codes of its sites in order. */
  order: string[];
  /** When it leaves, local time. */
  start: string;
  /** When it comes to each site and leaves it. */
  stops: StopView[];
  /** Its way, longitude and latitude. */
  way: number[][];
}

/** The book as the first page needs it. */
export interface BookView {
  /** County; empty when none. */
  county: string;
  /** What the depths count from. */
  depth_datum: string;
  /** File name of the book. */
  file: string;
  /** Last write, RFC 3339 in UTC; none in a new book. */
  last_write: string | null;
  /** Name of the lake. */
  name: string;
  /** State or region code; empty when none. */
  region: string;
  /** Surveys, newest first. */
  surveys: SurveyView[];
  /** `us` or `metric`. */
  units: string;
  /** The program's version. */
  version: string;
  /** The state's number of the water body; empty when none. */
  water_body_number: string;
}

/** A find of the check. */
export interface CheckView {
  /** Stable within one state of the record. */
  id: string;
  /** Stable kind, e.g. `missing-depth`. */
  kind: string;
  /** What was found. */
  message: string;
  /** What to do. */
  remedy: string;
  /** True once a person has settled it. */
  settled: boolean;
  /** `fault` or `doubt`. */
  severity: string;
  /** Site or header. */
  where: string;
}

/** Two surveys side by side. */
export interface CompareView {
  /** Sites with any plant. */
  any: TaxonChangeView;
  /** `paired` or `independent`. */
  design: string;
  /** The earlier. */
  from: SurveyBriefRef;
  /** Sites compared: pairs, or none when independent. */
  pairs: number | null;
  /** What is said of it, in words. */
  sentences: string[];
  /** Depth both surveys reached, when one of them stopped by rule. */
  shared_depth_m: number | null;
  /** Taxa. */
  taxa: TaxonChangeView[];
  /** The later. */
  to: SurveyBriefRef;
  /** What differs between them, first of all. */
  warnings: WarningView[];
}

/** A day on the water. */
export interface ConditionsView {
  /** Air temperature, °C. */
  air_c: number | null;
  /** The day, ISO. */
  date: string | null;
  /** Gear. */
  gear: string;
  /** Secchi depth. */
  secchi_m: number | null;
  /** Water temperature, °C. */
  water_c: number | null;
  /** Water level against the datum of the depths. */
  water_level_m: number | null;
  /** Weather. */
  weather: string;
  /** Wind, m/s. */
  wind_m_s: number | null;
  /** Wind in words. */
  wind_words: string;
}

/** A line of equal depth. */
export interface ContourView {
  /** Depth. */
  depth_m: number;
  /** GeoJSON geometry. */
  geometry: unknown;
}

/** A count and its share. */
export interface CountView {
  /** Upper limit. */
  high: number | null;
  /** Sites where found. */
  k: number;
  /** Lower limit, Wilson 95 %. */
  low: number | null;
  /** Sites looked at. */
  n: number;
  /** Share. */
  p: number | null;
}

/** A person of the crew. */
export interface CrewView {
  /** True when they named the plants. */
  identified: boolean;
  /** Name. */
  name: string;
  /** Role, as a key. */
  role: string;
}

/** What many numbers of sites reach by formula; one entry a number in each list. */
export interface CurveView {
  /** Chance to reach what was asked: to find, to come within the margin, to show the change. */
  chance: number[];
  /** Hours on the water; for change and treatment of each survey. */
  hours: number[];
  /** Margin at the confidence asked for, for a frequency or an acreage; empty for other purposes. */
  margin: number[];
  /** Numbers of sites, rising. */
  sites: number[];
}

/** When it is light. */
export interface DaylightView {
  /** Sunrise, local time; none in polar summer or winter. */
  rise: string | null;
  /** Sunset, local time. */
  set: string | null;
}

/** Sites within a step of depth. */
export interface DepthCountView {
  /** Of these, with the taxon. */
  found: number;
  /** From. */
  from_m: number;
  /** Sampled sites. */
  sampled: number;
  /** To, itself left out. */
  to_m: number;
}

/** Error of the depth model. */
export interface DepthErrorView {
  /** Mean absolute error. */
  mean_m: number;
  /** How it was found. */
  method: string;
  /** 95 of 100 are closer than this. */
  p95_m: number;
}

/** One way to lay the sites. */
export interface DesignView {
  /** Mean spatial balance, 0 is perfect. */
  balance: number;
  /** Chance to find the bed. */
  chance: number;
  /** Monte Carlo standard error of that chance. */
  chance_error: number;
  /** Root mean square error of the frequency, as a share of sites: 0.05 is five points. */
  error: number;
  /** Hours on the water: launching, sites, throws, and a good way between the sites in straight lines. */
  hours: number;
  /** Layout, as a key such as `point-grid`. */
  layout: string;
  /** 95 of 100 estimates lie within ± this. */
  margin: number;
  /** Sites it lays, on average. */
  sites: number;
  /** Layout in words. */
  words: string;
}

/** Ways to lay the same number of sites, side by side. */
export interface DesignsView {
  /** The designs in the order asked for. */
  designs: DesignView[];
  /** Area of the bed to be found. */
  patch_area_m2: number;
  /** The plant whose frequency is estimated, and where it grows. */
  plant: string;
  /** Virtual surveys of each design. */
  runs: number;
  /** Draws them. */
  seed: number;
  /** The comparison in a sentence. */
  sentence: string;
  /** Sites asked for. */
  sites: number;
  /** Throws a site. */
  throws: number;
  /** Designs that cannot be laid on this lake, and why. */
  warnings: string[];
}

/** A difference with its 95 % interval. */
export interface DifferenceView {
  /** Upper limit. */
  high: number;
  /** Lower limit. */
  low: number;
  /** Later minus earlier. */
  value: number;
}

/** How many sites a question needs. */
export interface EffortView {
  /** By formula over many numbers of sites, for a drawing. */
  curve: CurveView;
  /** By formula. */
  formula: FormulaView;
  /** What was assumed, by name. */
  inputs: Record<string, number>;
  judged: JudgedView | null;
  /** Purpose, as a key such as `detect`. */
  purpose: string;
  /** By the trade's rule. */
  rule_of_thumb: RuleOfThumbView;
  /** The answer in plain words. */
  sentence: string;
  simulation: SimulationView | null;
  /** What the user should know. */
  warnings: string[];
}

/** What the browser is told when a question is not answered. */
export interface ErrorBody {
  /** What to do; empty when there is nothing. */
  hint: string;
  /** What happened. */
  message: string;
}

/** Fetch by direction. */
export interface FetchView {
  /** West to east. */
  e: number;
  /** South to north. */
  n: number;
  /** South-west to north-east. */
  ne: number;
  /** North-west to south-east. */
  se: number;
}

/** What one survey says. */
export interface FindingsView {
  floristic_quality: FloristicView | null;
  /** Share of sites with any plant. */
  frequency_any: AllLittoral;
  /** Sampled sites no deeper than that. */
  littoral_sites: number;
  /** Greatest depth at which a plant came up on the rake; none when none did. */
  max_plant_depth_m: number | null;
  /** What a reader must know first. */
  notes: string[];
  /** Number of taxa. */
  richness: RichnessView;
  /** Key of the rating scale. */
  scale: string;
  /** Simpson 1 − Σp² on relative frequencies; none without plants. */
  simpson: number | null;
  /** Sites by what came of them. */
  sites: SitesCountView;
  /** Sampled sites without a depth, in no littoral figure. */
  sites_without_depth: number;
  /** Mean species a site, four kinds. */
  species_per_site: SpeciesPerSiteView;
  /** Survey. */
  survey: string;
  /** Taxa, commonest first. */
  taxa: TaxonFindingView[];
}

/** Floristic quality of the native taxa. */
export interface FloristicView {
  /** The table the C values were read in. */
  c_table: string;
  /** Mean C times the root of n. */
  fqi: number;
  /** Their mean C. */
  mean_c: number;
  /** Native taxa with a C value. */
  n: number;
  /** Native taxa without a C value in the table. */
  without_c: string[];
}

/** A number of sites by formula. */
export interface FormulaView {
  /** The formula with its symbols. */
  formula: string;
  /** On a square grid instead, where that makes a difference. */
  grid_sites: number | null;
  /** Hours on the water; for change and treatment of each survey. */
  hours: number;
  /** Sites; for change and treatment in each survey. */
  sites: number;
  /** Where it comes from. */
  source: string;
  /** Spacing of a grid with that many sites. */
  spacing_m: number;
}

/** A share with its 95 % Wilson interval. */
export interface FrequencyView {
  /** Upper limit. */
  high: number | null;
  /** Sites where found. */
  k: number;
  /** Lower limit. */
  low: number | null;
  /** Sites looked at. */
  n: number;
  /** Share; none when n is 0. */
  p: number | null;
  /** Standard error with n − 1. */
  se: number | null;
}

/** A row of the hypsographic table. */
export interface HypsographyRow {
  /** Area at least this deep. */
  area_m2: number;
  /** Depth. */
  depth_m: number;
  /** Volume below this depth. */
  volume_below_m3: number;
}

/** An island. */
export interface IslandView {
  /** Area on the ellipsoid. */
  area_m2: number;
  /** Length of its shore. */
  perimeter_m: number;
}

/** A number of sites to judge. */
export interface JudgedView {
  /** Chance to reach what was asked, by formula. */
  chance: number;
  /** Hours on the water. */
  hours: number;
  /** What it reaches: a chance, a power, or a margin. */
  reaches: number;
  /** Sites. */
  sites: number;
}

/** Measures of the whole lake. */
export interface LakeView {
  /** Area on the ellipsoid, islands left out. */
  area_m2: number;
  /** System the computation was done in, `EPSG:n`. */
  crs: string;
  /** Where the depths come from, in words. */
  depth_source: string | null;
  error: DepthErrorView | null;
  fetch_m: FetchView | null;
  /** Area and volume by depth. */
  hypsography: HypsographyRow[];
  /** Interpolation between the depths. */
  interpolation: string | null;
  /** Number of islands. */
  island_count: number;
  /** Each island. */
  islands: IslandView[];
  littoral: LittoralView | null;
  /** Greatest depth; none without depths. */
  max_depth_m: number | null;
  /** Longest straight line over water. */
  max_length_m: number | null;
  /** Volume by area. */
  mean_depth_m: number | null;
  /** Name of the lake. */
  name: string;
  /** Length of all shores, islands' included. */
  perimeter_m: number;
  /** Length of the outer shore alone. */
  perimeter_outer_m: number;
  /** Greatest depth as a share of the mean diameter, percent. */
  relative_depth: number | null;
  /** How the volume was computed: `grid`, `frustum`, `trapezoid`. */
  rule: string | null;
  /** Shoreline development, all shores. */
  shoreline_development: number;
  /** Number of depths the model rests on. */
  soundings: number;
  /** Volume. */
  volume_m3: number | null;
  /** Zones. */
  zones: ZoneView[];
}

/** A named place. */
export interface LandmarkView {
  /** `landmark`, `launch` or `hazard`. */
  kind: string;
  /** Name. */
  name: string;
  /** East. */
  x: number;
  /** North. */
  y: number;
}

/** The way by water from one place to the next. */
export interface LegView {
  /** Code of a site, or name of a landing. */
  from: string;
  /** Length by water. */
  length_m: number;
  /** The line, east and north in the working system as on the map. */
  line: number[][];
  /** Minutes at the boat's speed. */
  minutes: number;
  /** Code of a site, or name of a landing. */
  to: string;
}

/** The littoral zone. */
export interface LittoralView {
  /** Area between the limits. */
  area_m2: number;
  /** Deep limit. */
  max_depth_m: number;
  /** Shallow limit. */
  min_depth_m: number;
}

/** The lake as a drawing, in metres of the working system. */
export interface MapView {
  /** Depth bands, shallow first. */
  bands: BandView[];
  /** Contours. */
  contours: ContourView[];
  /** Working system, `EPSG:n`. */
  crs: string;
  /** Greatest depth, `[x, y, depth_m]`. */
  deepest: number[] | null;
  /** West, south, east, north. */
  extent: number[];
  /** Landmarks, launches and hazards. */
  landmarks: LandmarkView[];
  /** GeoJSON geometry of the lake, islands as holes. */
  outline: unknown;
  /** Sub-areas. */
  sub_areas: ShapeView[];
  /** Treatments. */
  treatments: ShapeView[];
  /** Zones. */
  zones: ShapeView[];
}

/** A parameter of a layout. */
export interface ParameterView {
  /** Name, with the SI unit where it has one. */
  name: string;
  /** Value. */
  value: string;
}

/** How to lay the sites of a survey. Each layout looks at the fields it knows; what is left out takes its usual value. */
export interface PlanAsk {
  /** Lay the sites again although some are there and none is visited yet. */
  again: boolean;
  /** Area of a sub-area; for shore sections, of the parts beyond them. */
  area_m2: number | null;
  /** Corners of shore sections fall on landmarks. */
  at_landmarks: boolean;
  /** Turn the grid so that its points are spread best. */
  best_rotation: boolean;
  /** So many times as many sites inside treatment areas. */
  denser_in_treatments: number | null;
  /** So many times as many sites near launches. */
  denser_near_launches: number | null;
  /** How near a launch; 100 m when left out. */
  denser_within_m: number | null;
  /** Limits of the bands of depth, shallow first. */
  depth_limits_m: number[];
  /** Earlier survey whose sites are visited again. */
  earlier: string | null;
  /** The same number of sites to each stratum, not in proportion to its water. */
  equal_strata: boolean;
  /** Of a panel's sites, those visited every year. */
  every_year: number;
  /** Distance to keep from hazards; 15 m when left out. */
  keep_away_m: number | null;
  /** `point-grid`, `sub-areas`, `shore-sections`, `squares`, `balanced`, `panel`, `given` or `again`. */
  layout: string;
  /** Length of a shore section. */
  length_m: number | null;
  /** Deepest water to lay sites in. */
  max_depth_m: number | null;
  /** Partial squares smaller than this share of a square join a neighbour; kept when left out. */
  merge: number | null;
  /** Shallowest water to lay sites in. */
  min_depth_m: number | null;
  /** Points with their numbers, for the layout `given`. */
  points: PointAsk[];
  /** Purpose of the survey, such as `baseline` or `early-detection`. */
  purpose: string | null;
  /** Draw the origin of a grid with the seed; else the grid starts in the middle of the lake. */
  random_origin: boolean;
  /** Turn of a grid, degrees clockwise. */
  rotation_deg: number | null;
  /** Rating scale. */
  scale: string | null;
  /** Draws a sample, or a grid's origin; 1 when left out. */
  seed: number | null;
  /** Side of a square. */
  side_m: number | null;
  /** Number of sites: points of a grid, parts, or sites of a sample. */
  sites: number | null;
  /** Distance between the points of a grid. */
  spacing_m: number | null;
  /** Spare sites of a balanced sample. */
  spares: number;
  /** `zone` or `depth`: sample each for itself. */
  strata: string | null;
  /** Name of the survey; may be empty for a look at the plan. */
  survey: string;
  /** Spread the sample by random tessellation, so that spares may replace sites in order without loss of spread. */
  tessellation: boolean;
  /** Rake throws a site. */
  throws: number | null;
  /** Years until a panel's turn is round; 3 when left out. */
  years: number | null;
  /** Zones to lay sites in, by code; all when empty. */
  zones: string[];
}

/** Sites of a band of depth. */
export interface PlanDepthView {
  /** Shallow side; none where the depth is not known. */
  from_m: number | null;
  /** Sites that are neither spare nor dropped. */
  sites: number;
  /** Deep side; none for the deepest band. */
  to_m: number | null;
}

/** A piece of water a site stands for. */
export interface PlanPartView {
  /** Area. */
  area_m2: number;
  /** Code. */
  code: string;
  /** GeoJSON geometry in metres of the working system, as on the map. */
  geometry: unknown;
  /** Length of its shore, for shore sections. */
  shore_m: number | null;
  /** Zone. */
  zone: string | null;
}

/** A plan: as laid, or as it would be laid. */
export interface PlanView {
  /** Water the sites may lie in. */
  area_m2: number;
  /** Voronoi balance of the sites, 0 is perfect; simple random samples lie near 0.34. */
  balance: number | null;
  /** Sites by band of the map's depths, shallow first; sites of unknown depth last. */
  by_depth: PlanDepthView[];
  /** Sites by zone, in the order of the zones; sites in no zone last. */
  by_zone: ZoneCountView[];
  /** What was changed by hand since it was laid, oldest first. */
  changes: SiteChangeView[];
  /** Sites that are neither spare nor dropped. */
  count: number;
  /** Hours on the water for one crew: launching, sites, throws, and a good way between them in straight lines. */
  hours: number;
  /** Layout. */
  layout: string;
  /** Everything that lays it again: seed, origin, turn, limits. */
  parameters: ParameterView[];
  /** Parts the sites stand for; empty for layouts of points. */
  parts: PlanPartView[];
  /** The plan in a sentence. */
  sentence: string;
  /** Sites in the order of the plan; spares last, in the order they are used. */
  sites: PlannedSiteView[];
  /** Spares. */
  spares: number;
  /** True once it is kept in the book. */
  stored: boolean;
  /** Survey; empty for a look at a plan that is not kept. */
  survey: string;
  /** What the user should know. */
  warnings: string[];
}

/** A planned site. */
export interface PlannedSiteView {
  /** Code. */
  code: string;
  /** Depth by the map. */
  depth_m: number | null;
  /** Why it was dropped and by whom; none for a site that stands. */
  dropped: string | null;
  /** Chance of being chosen. */
  inclusion_probability: number | null;
  /** Nearest landmark, when it stands for the position. */
  landmark: string;
  /** Latitude. */
  lat: number | null;
  /** Longitude. */
  lon: number | null;
  /** Panel of a rotating survey: 0 every year, 1, 2 … in turn. */
  panel: number | null;
  /** Part it stands for. */
  part: string | null;
  /** Kept in reserve. */
  spare: boolean;
  /** Visited, so it can no longer be changed. */
  visited: boolean;
  /** East in the working system, as on the map. */
  x: number | null;
  /** North in the working system. */
  y: number | null;
  /** Zone. */
  zone: string | null;
}

/** A point that has its number. */
export interface PointAsk {
  /** Its number or code. */
  code: string;
  /** Latitude. */
  lat: number;
  /** Longitude. */
  lon: number;
}

/** Sites with one rating. */
export interface RatingCountView {
  /** Code of the step. */
  code: string;
  /** Sites. */
  sites: number;
}

/** Number of taxa. */
export interface RichnessView {
  /** On the rake. */
  rake: number;
  /** And on the shore. */
  with_shoreline: number;
  /** And seen. */
  with_visuals: number;
}

/** A day on the water. */
export interface RouteView {
  /** Boats with their sites in order, one a boat and day. */
  boats: BoatView[];
  /** Sunrise and sunset. */
  daylight: DaylightView;
  /** True when every site is in some boat's order. */
  fits: boolean;
  /** Where the boats leave. */
  launch: string;
  /** Way of all boats together. */
  length_m: number;
  /** Sites that do not fit the day, or that no boat reaches. */
  over: string[];
  /** Draws the search. */
  seed: number;
  /** The plan in a sentence. */
  sentence: string;
  /** Survey. */
  survey: string;
  /** What the user should know. */
  warnings: string[];
}

/** A number of sites by the trade's rule. */
export interface RuleOfThumbView {
  /** Hours on the water. */
  hours: number;
  /** What that number reaches: a chance, a power, or a margin. */
  reaches: number;
  /** The rule. */
  rule: string;
  /** Sites. */
  sites: number;
}

/** A rating scale. */
export interface ScaleView {
  /** Key. */
  key: string;
  /** Name. */
  name: string;
  /** Where it comes from. */
  source: string;
  /** Steps, least first. */
  steps: StepView[];
}

/** The seal of a survey. */
export interface SealView {
  /** When, RFC 3339 in UTC. */
  at: string;
  /** Who closed it. */
  by: string;
  /** SHA-256 of the canonical record. */
  sha256: string;
}

/** A zone, sub-area or treatment as a shape. */
export interface ShapeView {
  /** Code. */
  code: string;
  /** GeoJSON geometry. */
  geometry: unknown;
  /** Where a label stands, `[x, y]`. */
  label: number[];
  /** Name; empty when none. */
  name: string;
  /** `none` or `conservation`. */
  protection: string;
  /** Code of the zone a sub-area belongs to. */
  zone: string | null;
}

/** Virtual surveys on this lake, one entry a number of sites. */
export interface SimulationView {
  /** What counts as reaching the aim, in words. */
  aim: string;
  /** Share of surveys that reached the aim. */
  chance: number[];
  /** Monte Carlo standard error of that share. */
  chance_error: number[];
  /** How the sites lay. */
  design: string;
  /** 95 of 100 estimates lay below. */
  high: (number | null)[];
  /** Hours on the water. */
  hours: number[];
  /** 95 of 100 estimates lay above; none where nothing is estimated. */
  low: (number | null)[];
  /** Where the virtual plants grew, in words. */
  plants: string;
  /** Virtual surveys for each number. */
  runs: number;
  /** Draws them. */
  seed: number;
  /** Numbers of sites. */
  sites: number[];
}

/** A change to a planned site. */
export interface SiteChangeView {
  /** Who was at the keyboard. */
  actor: string;
  /** When, RFC 3339 in UTC. */
  at: string;
  /** Code of the site. */
  code: string;
  /** What was done, by whom and why. */
  note: string;
}

/** A taxon at a site. */
export interface SiteTaxonView {
  /** Code. */
  code: string;
  /** Place of the step among the scale's steps above zero, from 1. */
  rank: number | null;
  /** Largest rating over the throws, as its code. */
  rating: string | null;
  /** `rake`, `visual` or `shoreline`. */
  seen: string;
  /** The same as a number. */
  value: number | null;
}

/** A site. */
export interface SiteView {
  /** Code. */
  code: string;
  /** Depth measured. */
  depth_m: number | null;
  /** Landmark. */
  landmark: string;
  /** Planned latitude. */
  lat: number | null;
  /** Planned longitude. */
  lon: number | null;
  /** Depth by the map. */
  map_depth_m: number | null;
  /** Remark. */
  note: string;
  /** Outcome, as a key; none when nobody went. */
  outcome: string | null;
  /** Bottom, as a key. */
  sediment: string | null;
  /** Species on the rake. */
  species: number;
  /** What was found. */
  taxa: SiteTaxonView[];
  /** Largest rating of the whole rake, as a number. */
  total_rating: number | null;
  /** East in the working system, of the boat where known, else planned. */
  x: number | null;
  /** North in the working system. */
  y: number | null;
  /** Zone. */
  zone: string | null;
}

/** Counts of sites. Visited = sampled + all of `not_sampled`; sites nobody went to are in neither. */
export interface SitesCountView {
  /** Not sampled, by reason. */
  not_sampled: Record<string, number>;
  /** Planned, spares left out. */
  planned: number;
  /** Sampled. */
  sampled: number;
  /** Sampled, with plants on the rake. */
  vegetated: number;
  /** Visited. */
  visited: number;
}

/** Mean species a site. */
export interface SpeciesPerSiteView {
  /** Over littoral sites. */
  littoral_mean: number | null;
  /** Native species over littoral sites. */
  native_littoral_mean: number | null;
  /** Native species over sites with a native species. */
  native_where_native_mean: number | null;
  /** Over sites with plants. */
  vegetated_mean: number | null;
}

/** A step of a scale. */
export interface StepView {
  /** Code on the sheet. */
  code: string;
  /** How it is measured in the boat. */
  measure: string;
  /** Name. */
  name: string;
  /** Number used in statistics. */
  value: number | null;
}

/** A site on a boat's day. */
export interface StopView {
  /** When the boat comes, local time. */
  arrive: string;
  /** Code of the site. */
  code: string;
  /** When it leaves. */
  leave: string;
}

/** Which survey. */
export interface SurveyBriefRef {
  /** Sites sampled. */
  sampled: number;
  /** Scale. */
  scale: string;
  /** First day, ISO. */
  start: string | null;
  /** Name. */
  survey: string;
}

/** The sites of a survey with what came of them, for the map. */
export interface SurveySitesView {
  /** Scale. */
  scale: ScaleView;
  /** Sites in the order of the plan. */
  sites: SiteView[];
  /** Survey. */
  survey: string;
}

/** A survey's header. */
export interface SurveyView {
  /** Changes made after the seal. */
  amendments: AmendmentView[];
  /** The days. */
  conditions: ConditionsView[];
  /** Who was there. */
  crew: CrewView[];
  /** Deeper sites were not visited by rule. */
  depth_cap_m: number | null;
  /** Last day, ISO. */
  end: string | null;
  /** Layout of the sites, e.g. `point-grid`. */
  layout: string;
  /** How, as a key such as `point-intercept`. */
  method: string;
  /** Name, unique in the book. */
  name: string;
  /** Remark. */
  note: string;
  /** Sites planned. */
  planned: number;
  /** Why, as a key such as `baseline`. */
  purpose: string;
  /** Sites sampled. */
  sampled: number;
  /** Key of the rating scale. */
  scale: string;
  seal: SealView | null;
  /** First day, ISO. */
  start: string | null;
  /** Rake throws a site. */
  throws_per_site: number;
  /** Sites visited. */
  visited: number;
}

/** What one taxon did. */
export interface TaxonChangeView {
  /** Code; `any` for all plants together. */
  code: string;
  /** Common name. */
  common_name: string;
  /** Smallest change this design finds 8 times in 10. */
  detectable: number | null;
  difference: DifferenceView | null;
  /** Earlier. */
  from: CountView;
  /** Pairs that gained it; none when independent. */
  gained: number | null;
  /** Pairs that lost it; none when independent. */
  lost: number | null;
  /** Origin. */
  origin: string;
  /** Its p value. */
  p: number | null;
  /** Adjusted for the number of taxa, Benjamini–Hochberg. */
  p_adjusted: number | null;
  /** Scientific name. */
  scientific_name: string;
  /** Name of the test. */
  test: string;
  /** Later. */
  to: CountView;
  /** `rose`, `fell`, `cannot tell` or `not compared`. */
  verdict: string;
}

/** One taxon. */
export interface TaxonFindingView {
  /** Coefficient of conservatism. */
  c: number | null;
  /** Code. */
  code: string;
  /** Common name. */
  common_name: string;
  /** Sites by depth of the water. */
  depths: DepthCountView[];
  /** Shares. */
  frequency: AllLittoralVegetated;
  /** Growth form, as a key. */
  growth_form: string;
  /** Counts in statistics of plants. */
  is_plant: boolean;
  /** Greatest depth on the rake. */
  max_depth_m: number | null;
  /** Mean rating over sites where found and rated, largest throw of each. */
  mean_rating: number | null;
  /** `native`, `introduced` or `unknown`. */
  origin: string;
  /** Sites by rating. */
  ratings: RatingCountView[];
  /** Share of all finds. */
  relative_frequency: number | null;
  /** Scientific name. */
  scientific_name: string;
  /** Sites where it came up on the rake. */
  sites: number;
  /** Sites where it was only seen. */
  visuals: number;
}

/** Something that restricts the comparison. */
export interface WarningView {
  /** Stable kind, e.g. `scale`, `season`, `observers`, `depth-cap`. */
  kind: string;
  /** In words. */
  message: string;
}

/** Sites of a zone. */
export interface ZoneCountView {
  /** Sites that are neither spare nor dropped. */
  sites: number;
  /** Code; none for water in no zone. */
  zone: string | null;
}

/** A zone with its measures. */
export interface ZoneView {
  /** Area. */
  area_m2: number;
  /** Code. */
  code: string;
  /** Area within the littoral limits. */
  littoral_area_m2: number | null;
  /** Mean depth. */
  mean_depth_m: number | null;
  /** Name. */
  name: string;
  /** `none` or `conservation`. */
  protection: string;
  /** Length of the lake's shore in the zone. */
  shore_m: number | null;
  /** Sub-areas in it. */
  sub_areas: number;
  /** Volume. */
  volume_m3: number | null;
}

/** Every schema by its name. */
export interface Contract {
  AllLittoral: AllLittoral;
  AllLittoralVegetated: AllLittoralVegetated;
  AmendmentView: AmendmentView;
  BandView: BandView;
  BoatView: BoatView;
  BookView: BookView;
  CheckView: CheckView;
  CompareView: CompareView;
  ConditionsView: ConditionsView;
  ContourView: ContourView;
  CountView: CountView;
  CrewView: CrewView;
  CurveView: CurveView;
  DaylightView: DaylightView;
  DepthCountView: DepthCountView;
  DepthErrorView: DepthErrorView;
  DesignView: DesignView;
  DesignsView: DesignsView;
  DifferenceView: DifferenceView;
  EffortView: EffortView;
  ErrorBody: ErrorBody;
  FetchView: FetchView;
  FindingsView: FindingsView;
  FloristicView: FloristicView;
  FormulaView: FormulaView;
  FrequencyView: FrequencyView;
  HypsographyRow: HypsographyRow;
  IslandView: IslandView;
  JudgedView: JudgedView;
  LakeView: LakeView;
  LandmarkView: LandmarkView;
  LegView: LegView;
  LittoralView: LittoralView;
  MapView: MapView;
  ParameterView: ParameterView;
  PlanAsk: PlanAsk;
  PlanDepthView: PlanDepthView;
  PlanPartView: PlanPartView;
  PlanView: PlanView;
  PlannedSiteView: PlannedSiteView;
  PointAsk: PointAsk;
  RatingCountView: RatingCountView;
  RichnessView: RichnessView;
  RouteView: RouteView;
  RuleOfThumbView: RuleOfThumbView;
  ScaleView: ScaleView;
  SealView: SealView;
  ShapeView: ShapeView;
  SimulationView: SimulationView;
  SiteChangeView: SiteChangeView;
  SiteTaxonView: SiteTaxonView;
  SiteView: SiteView;
  SitesCountView: SitesCountView;
  SpeciesPerSiteView: SpeciesPerSiteView;
  StepView: StepView;
  StopView: StopView;
  SurveyBriefRef: SurveyBriefRef;
  SurveySitesView: SurveySitesView;
  SurveyView: SurveyView;
  TaxonChangeView: TaxonChangeView;
  TaxonFindingView: TaxonFindingView;
  WarningView: WarningView;
  ZoneCountView: ZoneCountView;
  ZoneView: ZoneView;
}

/** What is checked of each on arrival. */
export const shapes: { readonly [name in keyof Contract]: Record<string, Shape> } = {
  AllLittoral: {
    all: { ref: "FrequencyView" },
    littoral: { ref: "FrequencyView" },
  },
  AllLittoralVegetated: {
    all: { ref: "FrequencyView" },
    littoral: { ref: "FrequencyView" },
    vegetated: { ref: "FrequencyView" },
  },
  AmendmentView: {
    at: "string",
    by: "string",
    why: "string",
  },
  BandView: {
    from_m: "number",
    geometry: "object",
    to_m: { nullable: "number" },
  },
  BoatView: {
    boat: "number",
    date: "string",
    finish: "string",
    legs: { list: { ref: "LegView" } },
    length_m: "number",
    minutes: "number",
    order: { list: "string" },
    start: "string",
    stops: { list: { ref: "StopView" } },
    way: { list: { list: "number" } },
  },
  BookView: {
    county: "string",
    depth_datum: "string",
    file: "string",
    last_write: { nullable: "string" },
    name: "string",
    region: "string",
    surveys: { list: { ref: "SurveyView" } },
    units: "string",
    version: "string",
    water_body_number: "string",
  },
  CheckView: {
    id: "string",
    kind: "string",
    message: "string",
    remedy: "string",
    settled: "boolean",
    severity: "string",
    where: "string",
  },
  CompareView: {
    any: { ref: "TaxonChangeView" },
    design: "string",
    from: { ref: "SurveyBriefRef" },
    pairs: { nullable: "number" },
    sentences: { list: "string" },
    shared_depth_m: { nullable: "number" },
    taxa: { list: { ref: "TaxonChangeView" } },
    to: { ref: "SurveyBriefRef" },
    warnings: { list: { ref: "WarningView" } },
  },
  ConditionsView: {
    air_c: { nullable: "number" },
    date: { nullable: "string" },
    gear: "string",
    secchi_m: { nullable: "number" },
    water_c: { nullable: "number" },
    water_level_m: { nullable: "number" },
    weather: "string",
    wind_m_s: { nullable: "number" },
    wind_words: "string",
  },
  ContourView: {
    depth_m: "number",
    geometry: "object",
  },
  CountView: {
    high: { nullable: "number" },
    k: "number",
    low: { nullable: "number" },
    n: "number",
    p: { nullable: "number" },
  },
  CrewView: {
    identified: "boolean",
    name: "string",
    role: "string",
  },
  CurveView: {
    chance: { list: "number" },
    hours: { list: "number" },
    margin: { list: "number" },
    sites: { list: "number" },
  },
  DaylightView: {
    rise: { nullable: "string" },
    set: { nullable: "string" },
  },
  DepthCountView: {
    found: "number",
    from_m: "number",
    sampled: "number",
    to_m: "number",
  },
  DepthErrorView: {
    mean_m: "number",
    method: "string",
    p95_m: "number",
  },
  DesignView: {
    balance: "number",
    chance: "number",
    chance_error: "number",
    error: "number",
    hours: "number",
    layout: "string",
    margin: "number",
    sites: "number",
    words: "string",
  },
  DesignsView: {
    designs: { list: { ref: "DesignView" } },
    patch_area_m2: "number",
    plant: "string",
    runs: "number",
    seed: "number",
    sentence: "string",
    sites: "number",
    throws: "number",
    warnings: { list: "string" },
  },
  DifferenceView: {
    high: "number",
    low: "number",
    value: "number",
  },
  EffortView: {
    curve: { ref: "CurveView" },
    formula: { ref: "FormulaView" },
    inputs: { map: "number" },
    judged: { nullable: { ref: "JudgedView" } },
    purpose: "string",
    rule_of_thumb: { ref: "RuleOfThumbView" },
    sentence: "string",
    simulation: { nullable: { ref: "SimulationView" } },
    warnings: { list: "string" },
  },
  ErrorBody: {
    hint: "string",
    message: "string",
  },
  FetchView: {
    e: "number",
    n: "number",
    ne: "number",
    se: "number",
  },
  FindingsView: {
    floristic_quality: { nullable: { ref: "FloristicView" } },
    frequency_any: { ref: "AllLittoral" },
    littoral_sites: "number",
    max_plant_depth_m: { nullable: "number" },
    notes: { list: "string" },
    richness: { ref: "RichnessView" },
    scale: "string",
    simpson: { nullable: "number" },
    sites: { ref: "SitesCountView" },
    sites_without_depth: "number",
    species_per_site: { ref: "SpeciesPerSiteView" },
    survey: "string",
    taxa: { list: { ref: "TaxonFindingView" } },
  },
  FloristicView: {
    c_table: "string",
    fqi: "number",
    mean_c: "number",
    n: "number",
    without_c: { list: "string" },
  },
  FormulaView: {
    formula: "string",
    grid_sites: { nullable: "number" },
    hours: "number",
    sites: "number",
    source: "string",
    spacing_m: "number",
  },
  FrequencyView: {
    high: { nullable: "number" },
    k: "number",
    low: { nullable: "number" },
    n: "number",
    p: { nullable: "number" },
    se: { nullable: "number" },
  },
  HypsographyRow: {
    area_m2: "number",
    depth_m: "number",
    volume_below_m3: "number",
  },
  IslandView: {
    area_m2: "number",
    perimeter_m: "number",
  },
  JudgedView: {
    chance: "number",
    hours: "number",
    reaches: "number",
    sites: "number",
  },
  LakeView: {
    area_m2: "number",
    crs: "string",
    depth_source: { nullable: "string" },
    error: { nullable: { ref: "DepthErrorView" } },
    fetch_m: { nullable: { ref: "FetchView" } },
    hypsography: { list: { ref: "HypsographyRow" } },
    interpolation: { nullable: "string" },
    island_count: "number",
    islands: { list: { ref: "IslandView" } },
    littoral: { nullable: { ref: "LittoralView" } },
    max_depth_m: { nullable: "number" },
    max_length_m: { nullable: "number" },
    mean_depth_m: { nullable: "number" },
    name: "string",
    perimeter_m: "number",
    perimeter_outer_m: "number",
    relative_depth: { nullable: "number" },
    rule: { nullable: "string" },
    shoreline_development: "number",
    soundings: "number",
    volume_m3: { nullable: "number" },
    zones: { list: { ref: "ZoneView" } },
  },
  LandmarkView: {
    kind: "string",
    name: "string",
    x: "number",
    y: "number",
  },
  LegView: {
    from: "string",
    length_m: "number",
    line: { list: { list: "number" } },
    minutes: "number",
    to: "string",
  },
  LittoralView: {
    area_m2: "number",
    max_depth_m: "number",
    min_depth_m: "number",
  },
  MapView: {
    bands: { list: { ref: "BandView" } },
    contours: { list: { ref: "ContourView" } },
    crs: "string",
    deepest: { nullable: { list: "number" } },
    extent: { list: "number" },
    landmarks: { list: { ref: "LandmarkView" } },
    outline: "object",
    sub_areas: { list: { ref: "ShapeView" } },
    treatments: { list: { ref: "ShapeView" } },
    zones: { list: { ref: "ShapeView" } },
  },
  ParameterView: {
    name: "string",
    value: "string",
  },
  PlanAsk: {
    again: "boolean",
    area_m2: { nullable: "number" },
    at_landmarks: "boolean",
    best_rotation: "boolean",
    denser_in_treatments: { nullable: "number" },
    denser_near_launches: { nullable: "number" },
    denser_within_m: { nullable: "number" },
    depth_limits_m: { list: "number" },
    earlier: { nullable: "string" },
    equal_strata: "boolean",
    every_year: "number",
    keep_away_m: { nullable: "number" },
    layout: "string",
    length_m: { nullable: "number" },
    max_depth_m: { nullable: "number" },
    merge: { nullable: "number" },
    min_depth_m: { nullable: "number" },
    points: { list: { ref: "PointAsk" } },
    purpose: { nullable: "string" },
    random_origin: "boolean",
    rotation_deg: { nullable: "number" },
    scale: { nullable: "string" },
    seed: { nullable: "number" },
    side_m: { nullable: "number" },
    sites: { nullable: "number" },
    spacing_m: { nullable: "number" },
    spares: "number",
    strata: { nullable: "string" },
    survey: "string",
    tessellation: "boolean",
    throws: { nullable: "number" },
    years: { nullable: "number" },
    zones: { list: "string" },
  },
  PlanDepthView: {
    from_m: { nullable: "number" },
    sites: "number",
    to_m: { nullable: "number" },
  },
  PlanPartView: {
    area_m2: "number",
    code: "string",
    geometry: "object",
    shore_m: { nullable: "number" },
    zone: { nullable: "string" },
  },
  PlanView: {
    area_m2: "number",
    balance: { nullable: "number" },
    by_depth: { list: { ref: "PlanDepthView" } },
    by_zone: { list: { ref: "ZoneCountView" } },
    changes: { list: { ref: "SiteChangeView" } },
    count: "number",
    hours: "number",
    layout: "string",
    parameters: { list: { ref: "ParameterView" } },
    parts: { list: { ref: "PlanPartView" } },
    sentence: "string",
    sites: { list: { ref: "PlannedSiteView" } },
    spares: "number",
    stored: "boolean",
    survey: "string",
    warnings: { list: "string" },
  },
  PlannedSiteView: {
    code: "string",
    depth_m: { nullable: "number" },
    dropped: { nullable: "string" },
    inclusion_probability: { nullable: "number" },
    landmark: "string",
    lat: { nullable: "number" },
    lon: { nullable: "number" },
    panel: { nullable: "number" },
    part: { nullable: "string" },
    spare: "boolean",
    visited: "boolean",
    x: { nullable: "number" },
    y: { nullable: "number" },
    zone: { nullable: "string" },
  },
  PointAsk: {
    code: "string",
    lat: "number",
    lon: "number",
  },
  RatingCountView: {
    code: "string",
    sites: "number",
  },
  RichnessView: {
    rake: "number",
    with_shoreline: "number",
    with_visuals: "number",
  },
  RouteView: {
    boats: { list: { ref: "BoatView" } },
    daylight: { ref: "DaylightView" },
    fits: "boolean",
    launch: "string",
    length_m: "number",
    over: { list: "string" },
    seed: "number",
    sentence: "string",
    survey: "string",
    warnings: { list: "string" },
  },
  RuleOfThumbView: {
    hours: "number",
    reaches: "number",
    rule: "string",
    sites: "number",
  },
  ScaleView: {
    key: "string",
    name: "string",
    source: "string",
    steps: { list: { ref: "StepView" } },
  },
  SealView: {
    at: "string",
    by: "string",
    sha256: "string",
  },
  ShapeView: {
    code: "string",
    geometry: "object",
    label: { list: "number" },
    name: "string",
    protection: "string",
    zone: { nullable: "string" },
  },
  SimulationView: {
    aim: "string",
    chance: { list: "number" },
    chance_error: { list: "number" },
    design: "string",
    high: { list: { nullable: "number" } },
    hours: { list: "number" },
    low: { list: { nullable: "number" } },
    plants: "string",
    runs: "number",
    seed: "number",
    sites: { list: "number" },
  },
  SiteChangeView: {
    actor: "string",
    at: "string",
    code: "string",
    note: "string",
  },
  SiteTaxonView: {
    code: "string",
    rank: { nullable: "number" },
    rating: { nullable: "string" },
    seen: "string",
    value: { nullable: "number" },
  },
  SiteView: {
    code: "string",
    depth_m: { nullable: "number" },
    landmark: "string",
    lat: { nullable: "number" },
    lon: { nullable: "number" },
    map_depth_m: { nullable: "number" },
    note: "string",
    outcome: { nullable: "string" },
    sediment: { nullable: "string" },
    species: "number",
    taxa: { list: { ref: "SiteTaxonView" } },
    total_rating: { nullable: "number" },
    x: { nullable: "number" },
    y: { nullable: "number" },
    zone: { nullable: "string" },
  },
  SitesCountView: {
    not_sampled: { map: "number" },
    planned: "number",
    sampled: "number",
    vegetated: "number",
    visited: "number",
  },
  SpeciesPerSiteView: {
    littoral_mean: { nullable: "number" },
    native_littoral_mean: { nullable: "number" },
    native_where_native_mean: { nullable: "number" },
    vegetated_mean: { nullable: "number" },
  },
  StepView: {
    code: "string",
    measure: "string",
    name: "string",
    value: { nullable: "number" },
  },
  StopView: {
    arrive: "string",
    code: "string",
    leave: "string",
  },
  SurveyBriefRef: {
    sampled: "number",
    scale: "string",
    start: { nullable: "string" },
    survey: "string",
  },
  SurveySitesView: {
    scale: { ref: "ScaleView" },
    sites: { list: { ref: "SiteView" } },
    survey: "string",
  },
  SurveyView: {
    amendments: { list: { ref: "AmendmentView" } },
    conditions: { list: { ref: "ConditionsView" } },
    crew: { list: { ref: "CrewView" } },
    depth_cap_m: { nullable: "number" },
    end: { nullable: "string" },
    layout: "string",
    method: "string",
    name: "string",
    note: "string",
    planned: "number",
    purpose: "string",
    sampled: "number",
    scale: "string",
    seal: { nullable: { ref: "SealView" } },
    start: { nullable: "string" },
    throws_per_site: "number",
    visited: "number",
  },
  TaxonChangeView: {
    code: "string",
    common_name: "string",
    detectable: { nullable: "number" },
    difference: { nullable: { ref: "DifferenceView" } },
    from: { ref: "CountView" },
    gained: { nullable: "number" },
    lost: { nullable: "number" },
    origin: "string",
    p: { nullable: "number" },
    p_adjusted: { nullable: "number" },
    scientific_name: "string",
    test: "string",
    to: { ref: "CountView" },
    verdict: "string",
  },
  TaxonFindingView: {
    c: { nullable: "number" },
    code: "string",
    common_name: "string",
    depths: { list: { ref: "DepthCountView" } },
    frequency: { ref: "AllLittoralVegetated" },
    growth_form: "string",
    is_plant: "boolean",
    max_depth_m: { nullable: "number" },
    mean_rating: { nullable: "number" },
    origin: "string",
    ratings: { list: { ref: "RatingCountView" } },
    relative_frequency: { nullable: "number" },
    scientific_name: "string",
    sites: "number",
    visuals: "number",
  },
  WarningView: {
    kind: "string",
    message: "string",
  },
  ZoneCountView: {
    sites: "number",
    zone: { nullable: "string" },
  },
  ZoneView: {
    area_m2: "number",
    code: "string",
    littoral_area_m2: { nullable: "number" },
    mean_depth_m: { nullable: "number" },
    name: "string",
    protection: "string",
    shore_m: { nullable: "number" },
    sub_areas: "number",
    volume_m3: { nullable: "number" },
  },
};
