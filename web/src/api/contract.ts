// Written by scripts/types.mjs from openapi.json; `npm run types` writes it again.

import type { Shape } from "./shape";

/** Species expected at a number of sites. */
export interface AccumulationView {
  /** Upper limit. */
  high: number;
  /** Lower limit. */
  low: number;
  /** Sites. */
  sites: number;
  /** Species expected. */
  value: number;
}

/** How much water a taxon stands in. */
export interface AcresView {
  /** Water it stands in; none when no point lies there: cannot tell. */
  area_m2: number | null;
  /** The same by rating. */
  by_rating: RatingAreaView[];
  /** Code of the taxon; `any` for all plants together. */
  code: string;
  covered_m2: EstimateView | null;
  /** Of these, with the taxon. */
  found: number;
  /** Upper limit. */
  high_m2: number | null;
  /** Points or sub-areas looked at. */
  looked_at: number;
  /** Lower limit. */
  low_m2: number | null;
  /** `nearest points` or `sub-areas`. */
  method: string;
  /** Water of the zone, or area of its sub-areas. */
  water_m2: number;
  /** Code of the zone; none for the whole. */
  zone: string | null;
}

/** A site known by its code alone. */
export interface AddSite {
  /** Who is writing. */
  by: string;
  /** Its code. */
  code: string;
}

/** What adding a file did, or would do. */
export interface AddView {
  /** Area, for an outline or zones. */
  area_m2: number | null;
  /** How wide and high the ground is that each of them stands for. */
  cell_size: number[] | null;
  /** For a raster, when a picture was asked for: middle and depth in metres of every so many cells under water, places as in `shapes`. */
  cells: number[][];
  /** For a background: each control point with how well it fits. */
  control_points: ControlPointView[];
  /** Reference system of the file, e.g. `EPSG:3071`. */
  crs: string;
  /** Least and greatest depth. */
  depth_m: number[] | null;
  /** West, south, east, north in degrees. */
  extent: number[] | null;
  /** Name of the file. */
  file: string;
  /** What was added, e.g. `outline`. */
  kind: string;
  /** The same in metres of the lake's working system, once it has one. */
  place: number[] | null;
  /** True when nothing was stored. */
  preview: boolean;
  /** Features or rows read. */
  read: number;
  /** For a background: root mean square over the control points. */
  residual_m: number | null;
  /** Lines of the file and single places, thinned, when a picture was asked for; in metres of the lake's working system, or in degrees before it has one. */
  shapes: number[][][];
  /** Left out: feature or row, and why. */
  skipped: SkippedRowView[];
  /** Records stored. */
  stored: number;
  /** What the user should know. */
  warnings: string[];
  /** For a background: how pixels become places. */
  warp: string | null;
}

/** At how many of the shared sites two crews found a plant. */
export interface AgreementTaxonView {
  /** Sites where both found it. */
  both: number;
  /** Its code on the lake's list. */
  code: string;
  /** Its common name, or its scientific one. */
  name: string;
  /** Sites where neither did. */
  neither: number;
  /** Sites where only the one crew did. */
  only_from: number;
  /** Sites where only the other did. */
  only_to: number;
}

/** How far two crews agree on sites both threw at. */
export interface AgreementView {
  /** The one survey. */
  from: string;
  /** Cohen's kappa of found and not found; none when it cannot be computed. */
  kappa_presence: number | null;
  /** Weighted kappa of the ratings. */
  kappa_rating: number | null;
  /** Pairs of site and plant compared: plants either crew found at a site, and not found by both. */
  pairs: number;
  /** Share of pairs where both say found, or both say not found. */
  same_presence: number | null;
  /** What the figures say, in a sentence. */
  sentence: string;
  /** Sites both sampled. */
  sites: number;
  /** What both, one or neither found, plant by plant. */
  taxa: AgreementTaxonView[];
  /** The other. */
  to: string;
  /** How ratings are weighted. */
  weighting: string;
}

/** Something to be heard of at once. */
export interface AlertView {
  /** Anchor in `docs/methods.md`. */
  anchor: string;
  /** Earlier surveys that looked there and did not find it; with none it may always have been there. None for a limit. */
  blanks_before: number | null;
  /** For a limit of frequency: whether the interval too lies above it. */
  certain: boolean | null;
  /** Code of the plant. */
  code: string;
  /** Its common name. */
  common_name: string;
  frequency: CountView | null;
  /** `first-in-lake`, `first-in-zone` or `above-limit`. */
  kind: string;
  limit: BoardLimitView | null;
  /** Its scientific name. */
  scientific_name: string;
  /** In a sentence. */
  sentence: string;
  /** Codes of the sites with it. */
  sites: string[];
  /** The zone, when it is about one. */
  zone: string | null;
}

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

/** A shift along the shore, between the points of it nearest to the two middles. */
export interface AlongShoreView {
  /** From the earlier middle to the shore. */
  from_off_m: number;
  /** Metres of shore, the shorter way round. */
  shore_m: number;
  /** From the later middle to the shore. */
  to_off_m: number;
  /** `clockwise` or `counter-clockwise` round the lake. */
  way: string;
}

/** A change after the seal. */
export interface AmendmentView {
  /** When, RFC 3339 in UTC. */
  at: string;
  /** Who. */
  by: string;
  /** Codes of the sites whose visits it changed. */
  sites: string[];
  /** Why. */
  why: string;
}

/** A zone or a sub-area as drawn. */
export interface AreaAsk {
  /** Its code. */
  code: string;
  /** GeoJSON geometry in metres of the working system; the one it has when not said. */
  geometry: unknown | null;
  /** `zone` or `sub-area`. */
  kind: string;
  /** Its name. */
  name: string;
  /** `none` or `conservation`. */
  protection: string;
  /** What may be done there, in words. */
  rule: string;
  /** Year it was first used. */
  since: number | null;
  /** Year it was last used. */
  until: number | null;
  /** The version the editor saw; an edit made from an older one is refused. */
  version: string | null;
  /** Code of the zone a sub-area belongs to; the zone it lies in when not said. */
  zone: string | null;
}

/** A picture under the lake. */
export interface BackgroundView {
  /** What fixes it to the ground. */
  control_points: ControlPointView[];
  /** System of the places, `EPSG:n`. */
  crs: string;
  /** West, south, east, north of the picture drawn north up. */
  extent: number[];
  /** Key. */
  id: string;
  /** Name. */
  name: string;
  /** Root mean square over the control points. */
  residual_m: number;
  /** SHA-256 of its bytes. */
  sha256: string;
  /** Pixels across and down. */
  size: number[];
  /** `affine`, `projective` or `thin-plate`. */
  warp: string;
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

/** A surface bed as it is written. */
export interface BedBody {
  /** Remark. */
  note: string;
  /** Code of the step. */
  rating: string | null;
  /** Code of the site it was noted at. */
  site: string | null;
  /** Codes of what grows in it. */
  taxa: string[];
}

/** A surface bed as it stands. */
export interface BedEntry {
  /** What it says. */
  bed: BedBody;
  /** True when its edge is drawn on the map. */
  drawn: boolean;
  /** Key. */
  id: string;
}

/** Surface beds as drawn. */
export interface BedsView {
  /** Area of beds with a drawn edge, overlaps counted once. */
  area_m2: number;
  /** Code of the taxon. */
  code: string;
  /** Drawings that reach into it. */
  drawings: number;
  /** Beds noted without an edge, in no area; over all only. */
  not_drawn: number;
  /** Code of the zone; none over all. */
  zone: string | null;
}

/** A survey without a plan. */
export interface BeginSurvey {
  /** Who is writing. */
  by: string;
  /** Its name. */
  name: string;
  /** Key of the rating scale. */
  scale: string;
  /** Why it is another scale than the lake's surveys are rated on. */
  scale_reason: string;
  /** Rake throws a site. */
  throws_per_site: number;
}

/** A limit the lake board wrote down. */
export interface BoardLimitView {
  /** Day it was adopted. */
  adopted: string;
  /** `frequency-above`, `sites-above` or `rating-at-least`. */
  kind: string;
  /** Its number, to name it by. */
  number: number;
  /** Code of the plant; none for every introduced plant, one by one. */
  taxon: string | null;
  /** The board's own words. */
  text: string;
  /** A share of sites, a number of sites, or the number of a rating. */
  value: number;
  /** What is too much, in words. */
  words: string;
  /** Code of the zone; none for the whole lake. */
  zone: string | null;
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

/** A change of scale or method. */
export interface BreakView {
  /** `scale`, `method` or `throws`. */
  kind: string;
  /** In words. */
  message: string;
  /** Why the scale was changed; empty when nobody said, and for other breaks. */
  reason: string;
  /** The survey from which on it holds. */
  survey: string;
}

/** Something that no longer holds. */
export interface BrokenView {
  /** What was expected. */
  expected: string;
  /** What was found. */
  found: string;
  /** What. */
  what: string;
  /** Where. */
  where: string;
}

/** Chao's lower bound. */
export interface ChaoView {
  /** Upper limit. */
  high: number;
  /** Lower limit, never below the number found. */
  low: number;
  /** Form used: `classic`, or `bias-corrected` when no species was found exactly twice. */
  method: string;
  /** Standard error. */
  se: number;
  /** Lower bound of all species. */
  value: number;
}

/** A find of the check. */
export interface CheckView {
  /** Stable within one state of the record. */
  id: string;
  /** Stable kind, e.g. `missing-depth`. */
  kind: string;
  /** What was found. */
  message: string;
  /** Why it is right as it is, when settled. */
  reason: string | null;
  /** What to do. */
  remedy: string;
  /** True once a person has settled it. */
  settled: boolean;
  /** Who said so. */
  settled_by: string | null;
  /** `fault` or `doubt`. */
  severity: string;
  /** Site or header. */
  where: string;
  /** Why it matters. */
  why: string;
}

/** A record to be closed. */
export interface CloseRecord {
  /** Who closes it. */
  by: string;
  /** Why it is closed although faults are open. */
  despite: string | null;
}

/** A column of a file, and what it was taken for. */
export interface ColumnView {
  /** Its header as it stands in the file. */
  header: string;
  /** The key of what it was taken for. */
  meaning: string;
}

/** How alike two surveys are as communities of plants on the rake. */
export interface CommunityView {
  /** Bray–Curtis dissimilarity of frequencies, 0 alike to 1; none without plants on either side. */
  bray_curtis: number | null;
  /** Jaccard dissimilarity of the species lists. */
  jaccard: number | null;
  /** Its permutation p. */
  p: number | null;
  /** Permutations. */
  permutations: number;
  /** ANOSIM's R over sites, near 0 when alike. */
  r: number | null;
  /** True when ratings entered the test, false for presence alone. */
  rated: boolean;
  /** Their seed. */
  seed: number;
  /** Sites compared, earlier and later. */
  sites: number[];
  /** Why there is no test; empty when there is. */
  why_not: string;
  /** True when the two visits of a site change places, false when any sites do. */
  within_pairs: boolean;
}

/** Two surveys side by side. */
export interface CompareView {
  /** Sites with any plant. */
  any: TaxonChangeView;
  /** Zone by zone, for zones both plans have. */
  by_zone: ZoneChangeView[];
  /** How alike the surveys are as communities. */
  community: CommunityView;
  /** `paired` or `independent`. */
  design: string;
  /** The earlier. */
  from: SurveyBriefRef;
  /** Where `docs/methods.md` explains a figure: its key here, the anchor there. */
  methods: Record<string, string>;
  /** Changes beside what season and sampling do anyway; context, no test. */
  noise: NoiseBandView[];
  /** Where the bands come from. */
  noise_source: string;
  /** Sites compared: pairs, or none when independent. */
  pairs: number | null;
  /** What each site gained and lost, for a map; empty when the sites are different ones. */
  places: SiteGainView[];
  /** Sites compared where nothing was found either time, which are not in `places`; none when the sites are different ones. */
  places_bare: number | null;
  /** What ratings did, by taxon; empty when the surveys used different scales or one of one step. */
  ratings: RatingChangeView[];
  richness: RichnessChangeView | null;
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

/** A field two edits disagree in. */
export interface ConflictFieldView {
  /** What stands. */
  current: string;
  /** Field. */
  field: string;
  /** What the other edit says. */
  other: string;
}

/** Two edits of one record that contradict each other. */
export interface ConflictView {
  /** When, RFC 3339 in UTC; empty when it is not there. */
  current_at: string;
  /** Who wrote what stands; empty when it is not there. */
  current_by: string;
  /** Fields that differ: name, what stands, what the other says. */
  fields: ConflictFieldView[];
  /** Key, to settle it by. */
  id: string;
  /** When, RFC 3339 in UTC. */
  other_at: string;
  /** Who made the edit kept beside, and when. */
  other_by: string;
  /** Which record, in words. */
  what: string;
}

/** A line of equal depth. */
export interface ContourView {
  /** Depth. */
  depth_m: number;
  /** GeoJSON geometry. */
  geometry: unknown;
}

/** Contours as traced, to be data. */
export interface ContoursAsk {
  /** The contours. */
  contours: TracedContour[];
  /** What they are called among the depths. */
  name: string;
}

/** An effect with its interval. */
export interface ContrastView {
  /** Upper limit. */
  high: number;
  /** Lower limit. */
  low: number;
  /** Permutation p of no effect, two-sided; none on the log odds. */
  p: number | null;
  /** `difference of proportions`, `log odds` or `steps of the scale`. */
  scale: string;
  /** The effect; below zero for a fall. */
  value: number;
}

/** A control point and how well it fits. */
export interface ControlPointView {
  /** The same with the transform fitted without this point; none where too few are left. */
  left_out_m: number | null;
  /** What it is. */
  name: string;
  /** Pixel, x to the right and y down from the upper left corner. */
  pixel: number[];
  /** Place in metres of the working system. */
  place: number[];
  /** Between the place given and the one the transform gives. */
  residual_m: number;
  /** It does not fit the others at all. */
  suspect: boolean;
}

/** A share taken away. */
export interface ControlView {
  /** Upper limit. */
  high: number | null;
  /** Lower limit of the resampled share; none when resampling cannot tell. */
  low: number | null;
  /** The share; negative for an increase. */
  value: number;
}

/** A corner to be moved, put in or taken out, in every shape that has it. */
export interface CornerAsk {
  /** `move`, `insert` or `delete`. */
  action: string;
  /** The corner, or for `insert` the place on an edge. */
  at: number[];
  /** `areas`, the zones and sub-areas, or `outline`; both when not said. */
  of: string | null;
  /** Where it moves, or where the new corner goes. */
  to: number[] | null;
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

/** Distance to the nearest sounding or contour. */
export interface DatumDistanceView {
  /** How much water lies how far, near first. */
  bands: DistanceAreaView[];
  /** Where that is, in metres of the working system. */
  farthest: number[];
  /** The same in degrees east and north. */
  farthest_lon_lat: number[];
  /** Mean over the water. */
  mean_m: number;
  /** Half of the water is nearer. */
  median_m: number;
  /** The farthest place. */
  most_m: number;
  /** 95 of 100 parts of the water are nearer. */
  p95_m: number;
}

/** A day on the water as it is written. What is missing is not zero. */
export interface DayBody {
  /** Air temperature, °C. */
  air_c: number | null;
  /** The day, ISO. */
  date: string | null;
  /** Until, `HH:MM`. */
  end: string | null;
  /** Rake, rope, GPS unit, boat. */
  gear: string;
  /** Secchi depth. */
  secchi_m: number | null;
  /** On the water from, `HH:MM`. */
  start: string | null;
  /** Water temperature, °C. */
  water_c: number | null;
  /** Water level above (+) or below (−) the datum of the depth map. */
  water_level_m: number | null;
  /** Sky and weather. */
  weather: string;
  /** Wind, m/s. */
  wind_m_s: number | null;
  /** Wind in words. */
  wind_words: string;
}

/** When it is light. */
export interface DaylightView {
  /** Sunrise, local time; none in polar summer or winter. */
  rise: string | null;
  /** Sunset, local time. */
  set: string | null;
}

/** An effect on ratings, absent plants rated zero. */
export interface DensityView {
  abbott: ControlView | null;
  difference: ContrastView | null;
  henderson_tilton: ControlView | null;
  /** Mean in the treated part, before and after. */
  treated: number[];
  /** Mean in the untreated part. */
  untreated: number[];
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

/** Depths in quarters of the sites. */
export interface DepthQuartilesView {
  /** Deepest. */
  greatest_m: number;
  /** Shallowest. */
  least_m: number;
  /** A quarter of the sites is no deeper. */
  lower_m: number;
  /** Half of them. */
  median_m: number;
  /** Sites with a measured depth. */
  sites: number;
  /** Three quarters. */
  upper_m: number;
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

/** How well repeated throws find one taxon. */
export interface DetectionView {
  /** Code of the taxon. */
  code: string;
  /** Chance that one throw finds it where it stands. */
  detection: number | null;
  /** Upper limit. */
  detection_high: number | null;
  /** Lower limit. */
  detection_low: number | null;
  /** Chance that all throws at a site which has it came up without it. */
  missed_chance: number | null;
  /** Share of sites where it was found. */
  naive: number | null;
  /** Share of sites it stands at; none when the throws cannot tell. */
  occupancy: number | null;
  /** Upper limit. */
  occupancy_high: number | null;
  /** Lower limit. */
  occupancy_low: number | null;
  /** Sites. */
  sites: number;
  /** Throws that chance speaks of. */
  throws: number;
  /** Why the throws cannot tell; empty when they can. */
  why_not: string;
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

/** Water between two distances to the nearest sounding or contour. */
export interface DistanceAreaView {
  /** Area between the two. */
  area_m2: number;
  /** Distance it begins at. */
  from_m: number;
  /** Distance of the next; none for the farthest. */
  to_m: number | null;
}

/** Water by its distance to the nearest sounding or contour. */
export interface DistanceBandView {
  /** Distance it begins at. */
  from_m: number;
  /** GeoJSON geometry of all water at least `from_m` away. */
  geometry: unknown;
  /** Distance of the next; none for the farthest. */
  to_m: number | null;
}

/** The lake by its distance to the nearest sounding or contour. */
export interface DistanceView {
  /** Near first; the shapes lie on one another. */
  bands: DistanceBandView[];
  /** Where it begins to be far: the first step beyond which not more than 5 in 100 parts of the water lie. */
  beyond_m: number;
}

/** Diversity from relative frequencies. */
export interface DiversityView {
  /** Shannon over the logarithm of the number of species; none for a single species. */
  evenness: number | null;
  /** `1/Σp²`. */
  inverse_simpson: number;
  /** `−Σ p·ln p`. */
  shannon: number;
  /** `1 − Σp²`. */
  simpson: number;
}

/** All that can be drawn, in metres of the working system, with every corner. */
export interface DrawView {
  /** Zones and sub-areas. */
  areas: DrawnAreaView[];
  /** Scanned maps. */
  backgrounds: BackgroundView[];
  /** Contours the depths rest on. */
  contours: DrawnContourView[];
  /** Working system, `EPSG:n`. */
  crs: string;
  /** West, south, east, north of the lake, or of the first scanned map when there is no shore. */
  extent: number[] | null;
  /** What looks wrong between the zones. */
  flags: FlagView[];
  /** Landmarks, launches and hazards. */
  landmarks: DrawnLandmarkView[];
  /** Note of the save that is taken back next. */
  last_change: string | null;
  /** Note of the save that was taken back and can be made again. */
  next_redo: string | null;
  /** GeoJSON geometry of the water, islands as holes. */
  outline: unknown | null;
  /** Year of the last survey that was made. */
  surveyed: number | null;
  /** Version of the drawing, to be sent back with a change as `if-match`. */
  version: string;
}

/** A zone or a sub-area. */
export interface DrawnAreaView {
  /** Area on the ground. */
  area_m2: number;
  /** Code. */
  code: string;
  /** GeoJSON geometry. */
  geometry: unknown;
  /** Key. */
  id: string;
  /** `zone` or `sub-area`. */
  kind: string;
  /** Name; empty when none. */
  name: string;
  /** `none` or `conservation`. */
  protection: string;
  /** What may be done there, in words. */
  rule: string;
  /** Year it was first used. */
  since: number | null;
  /** Version, to be sent back with a change. */
  version: string;
  /** Code of the zone a sub-area belongs to. */
  zone: string | null;
}

/** A contour among the depths. */
export interface DrawnContourView {
  /** SHA-256 of the depths it came with. */
  data_set: string;
  /** Depth. */
  depth_m: number;
  /** GeoJSON geometry. */
  geometry: unknown;
  /** How many contours came with it, this one counted. */
  of: number;
  /** Name of the file or tracing it came with. */
  source: string;
}

/** A named place. */
export interface DrawnLandmarkView {
  /** `[x, y]`. */
  at: number[];
  /** Key. */
  id: string;
  /** `landmark`, `launch` or `hazard`. */
  kind: string;
  /** Name. */
  name: string;
}

/** What happened in both parts. */
export interface EffectView {
  abbott: ControlView | null;
  density: DensityView | null;
  /** Smallest effect on frequency that would have shown. */
  detectable: number | null;
  difference: ContrastView | null;
  henderson_tilton: ControlView | null;
  log_odds: ContrastView | null;
  /** Codes of other names it may have been written down under, which left nothing to say. */
  may_be: string[];
  /** Permutation p. */
  p: number | null;
  /** Adjusted for the number of plants in the list. */
  p_adjusted: number | null;
  /** In the treated part. */
  treated: PartChangeView;
  /** In the untreated part. */
  untreated: PartChangeView;
  /** What may be said: `fell`, `rose`, `cannot tell` or `not compared`. */
  verdict: string;
}

/** Whether a treatment worked. */
export interface EfficacyView {
  abbott: ControlView | null;
  /** The first survey after. */
  after: SurveyBriefRef;
  before: SurveyBriefRef | null;
  /** Codes of the zones the untreated sites lie in; empty for everywhere outside the treatments. */
  control: string[];
  /** Smallest effect on frequency these sites show 8 times in 10; none when nothing varied. */
  detectable: number | null;
  estimate: ContrastView | null;
  estimate_logit: ContrastView | null;
  henderson_tilton: ControlView | null;
  later: SurveyBriefRef | null;
  /** Where `docs/methods.md` explains a figure: its key here, the anchor there. */
  methods: Record<string, string>;
  /** Each native plant, commonest first. */
  natives: TaxonEffectView[];
  /** Permutations and resamples. */
  permutations: number;
  persistence: EffectView | null;
  /** Why. */
  reason: string;
  /** Their seed. */
  seed: number;
  /** The answer in sentences. */
  sentences: string[];
  /** Each site and its part, for a map. */
  sites: PartSiteView[];
  /** Each target. */
  target: TaxonEffectView[];
  /** How they were chosen: `as given` or `introduced plants found in either survey`. */
  target_rule: string;
  /** Codes of the plants the treatment was meant for. */
  targets: string[];
  /** All targets together, everything there is. */
  together: EffectView;
  /** The treatments asked for. */
  treatments: TreatmentView[];
  /** `yes`, `no` or `cannot tell`. */
  verdict: string;
  /** What restricts the answer, first of all. */
  warnings: WarningView[];
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

/** A site two entries disagree about. */
export interface EntryDifferenceView {
  /** Fields that differ. */
  fields: ConflictFieldView[];
  first: VisitBody | null;
  /** Who entered it first; empty when nobody did or nobody signed. */
  first_by: string;
  /** The second entry. */
  second: VisitBody;
  /** Who entered it second. */
  second_by: string;
  /** Site. */
  site: string;
}

/** A planned site as the form needs it. */
export interface EntrySiteView {
  /** Code. */
  code: string;
  /** Why it was taken out of the plan; none when it stands. */
  dropped: string | null;
  /** Landmark. */
  landmark: string;
  /** Planned latitude. */
  lat: number | null;
  /** Planned longitude. */
  lon: number | null;
  /** Depth by the map. */
  map_depth_m: number | null;
  /** Kept in reserve. */
  spare: boolean;
  /** Sub-area. */
  sub_area: string | null;
  /** Zone. */
  zone: string | null;
}

/** A taxon of the lake's list as the form needs it. */
export interface EntryTaxonView {
  /** Codes it had before. */
  aliases: string[];
  /** Code, unique in the lake. */
  code: string;
  /** Common name. */
  common_name: string;
  /** Visits of all surveys with it. */
  found: number;
  /** Visits of this survey with it. */
  found_here: number;
  /** Growth form, as a key. */
  growth_form: string;
  /** Listed noxious, as the user set it. */
  listed_noxious: boolean;
  /** `native`, `introduced` or `unknown`. */
  origin: string;
  /** Old and other names the catalogue knows it by. */
  other_names: string[];
  /** `species`, `genus`, `hybrid`, `aggregate` or `unidentified`. */
  rank: string;
  /** Scientific name. */
  scientific_name: string;
}

/** All that a form needs to write up one survey. */
export interface EntryView {
  /** Changes made after the seal, the oldest first. */
  amendments: AmendmentView[];
  /** Surface beds. */
  beds: BedEntry[];
  /** Header with its version. */
  header: HeaderEntry;
  /** Names of people in this book, for completion. */
  people: string[];
  /** Reasons for not sampling. */
  reasons: WordView[];
  /** Roles of a crew. */
  roles: WordView[];
  /** The one scale. */
  scale: ScaleView;
  seal: SealView | null;
  /** Bottoms. */
  sediments: WordView[];
  /** Shoreline finds. */
  shoreline: ShorelineEntry[];
  /** Sites in the order of the sheet. */
  sites: EntrySiteView[];
  /** The lake's list, most often found first. */
  species: EntryTaxonView[];
  /** Survey. */
  survey: string;
  /** `us` or `metric`: the units people write; everything here is SI. */
  units: string;
  /** Visits written so far. */
  visits: VisitEntry[];
  /** Codes of the zones. */
  zones: string[];
}

/** What the browser is told when a question is not answered. */
export interface ErrorBody {
  /** What to do; empty when there is nothing. */
  hint: string;
  /** What happened. */
  message: string;
}

/** A figure with its 95 % interval. */
export interface EstimateView {
  /** Upper limit. */
  high: number;
  /** Lower limit. */
  low: number;
  /** The figure. */
  value: number;
}

/** A sampled point. */
export interface ExtentPointView {
  /** Code of the site. */
  code: string;
  /** Whether the taxon came up there. */
  found: boolean;
  /** Code of its rating, when rated. */
  rating: string | null;
  /** East. */
  x: number;
  /** North. */
  y: number;
}

/** A map of the chance of a taxon over the water. */
export interface ExtentView {
  /** Anchor in `docs/methods.md`. */
  anchor: string;
  /** Side of a cell. */
  cell_side_m: number;
  /** Cells as `[x, y, chance, standard error of the chance]`, their middles in metres of the working system; empty when not kriged. */
  cells: number[][];
  /** Code of the taxon; `any` for all plants together. */
  code: string;
  /** System of the coordinates, `EPSG:n`. */
  crs: string;
  /** `indicator kriging`, or `nearest points` where there are too few points for it. */
  method: string;
  /** What it is called. */
  name: string;
  /** Points that lie in no water, left out. */
  outside: number;
  /** The points the map rests on. */
  points: ExtentPointView[];
  /** Survey. */
  survey: string;
  variogram: VariogramView | null;
  /** Which water it covers: all of it, or to the depth sites were laid to. */
  water: string;
  /** Why it was not kriged; empty when it was. */
  why_not: string;
  /** Extent, whole lake first, then by zone. */
  zones: AcresView[];
}

/** Species expected beyond the sites sampled; it has no interval. */
export interface ExtrapolationView {
  /** Sites. */
  sites: number;
  /** Species expected. */
  value: number;
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

/** A figure behind a sentence. */
export interface FigureView {
  /** Upper limit. */
  high: number | null;
  /** Lower limit. */
  low: number | null;
  /** Stable name, e.g. `frequency_any`. */
  name: string;
  /** The figure. */
  value: number;
}

/** What one survey says. */
export interface FindingsView {
  /** Water each taxon stands in, whole lake first, then by zone; empty without an outline or without places. `any` stands for all plants together. */
  acres: AcresView[];
  /** Which water that is: all of it, or to the depth sites were laid to; empty without an outline. */
  acres_water: string;
  /** What should be heard of at once. */
  alerts: AlertView[];
  /** Surface beds as drawn, over all and by zone; in no other figure. */
  beds: BedsView[];
  /** The lake board's own written limits. */
  board_limits: BoardLimitView[];
  /** By step of measured depth. */
  by_depth: GroupView[];
  /** By stratum of the layout; empty when it had none. */
  by_stratum: GroupView[];
  /** By zone. */
  by_zone: GroupView[];
  design_weighted: WeightedView | null;
  /** Occupancy and detection from repeated throws, for every taxon on the rake. */
  detection: DetectionView[];
  diversity: DiversityView | null;
  /** Share of all finds that belong to the 1, 2, 3 … commonest plants. */
  dominance: number[];
  floristic_quality: FloristicView | null;
  /** Share of sites with any plant. */
  frequency_any: AllLittoral;
  /** Sampled sites no deeper than that. */
  littoral_sites: number;
  /** Greatest depth at which a plant came up on the rake; none when none did. */
  max_plant_depth_m: number | null;
  /** Where `docs/methods.md` explains a figure: its key here, the anchor there. */
  methods: Record<string, string>;
  /** A plant found nowhere may still stand at this share of places (95 %), if the rake never misses; none when no site was sampled. */
  missed_at_most: number | null;
  /** What a reader must know first. */
  notes: string[];
  /** Number of taxa. */
  richness: RichnessView;
  /** Key of the rating scale. */
  scale: string;
  /** The same with lengths of shore, over all and by zone; in no other figure. */
  shore: ShoreView[];
  /** Finds on the shore by taxon: code and number of places; in no other figure. */
  shoreline: Record<string, number>;
  /** Simpson 1 − Σp² on relative frequencies; none without plants. */
  simpson: number | null;
  /** Sites by what came of them. */
  sites: SitesCountView;
  /** Sampled sites without a depth, in no littoral figure. */
  sites_without_depth: number;
  /** Mean species a site, four kinds. */
  species_per_site: SpeciesPerSiteView;
  /** What all of it says, in sentences made by rules. */
  summary: SentenceView[];
  /** Survey. */
  survey: string;
  /** Taxa, commonest first. */
  taxa: TaxonFindingView[];
}

/** Where and when a plant was found first. */
export interface FirstFoundView {
  /** Earlier surveys that looked there and did not find it; with none it may always have been there. */
  blanks_before: number;
  /** The day halfway through it. */
  date: string | null;
  /** Sites there with it. */
  sites: number;
  /** Survey. */
  survey: string;
  /** Code of the zone; none for sites in no zone. */
  zone: string | null;
}

/** Something between areas that is seldom meant. */
export interface FlagView {
  /** How much. */
  area_m2: number;
  /** Where, `[x, y]`. */
  at: number[];
  /** The areas concerned. */
  codes: string[];
  /** `overlap`, `gap` or `out-of-lake`. */
  kind: string;
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

/** A geometry alone. */
export interface GeometryAsk {
  /** Code of the area it belongs to, when it is there already. */
  code: string | null;
  /** GeoJSON geometry in metres of the working system. */
  geometry: unknown;
  /** Longitude and latitude of a place on the lake, for the first outline of one without a scanned map: the metres are those of the UTM zone there. */
  near: number[] | null;
}

/** One taxon in a part of the sites. */
export interface GroupTaxonView {
  /** Code. */
  code: string;
  /** Of the sampled sites of the part. */
  frequency: CountView;
  /** Mean rating where found and rated. */
  mean_rating: number | null;
}

/** What a survey says of a part of its sites. */
export interface GroupView {
  /** Sites with any plant. */
  frequency_any: FrequencyView;
  /** From this depth, itself in; for steps of depth only. */
  from_m: number | null;
  /** Name of the part: code of a zone, name of a stratum, range of depth; empty for sites in none. */
  key: string;
  /** Not sampled, by reason. */
  not_sampled: Record<string, number>;
  /** Sites planned there; none for depths. */
  planned: number | null;
  /** Taxa of plants on the rake. */
  richness: number;
  /** Sites sampled. With zero nothing is known of the part. */
  sampled: number;
  /** Mean species a sampled site; none where nothing was counted. */
  species_per_site: number | null;
  /** Taxa on the rake, commonest first. */
  taxa: GroupTaxonView[];
  /** To this depth, itself out. */
  to_m: number | null;
}

/** The header of a survey as it is written. */
export interface HeaderBody {
  /** Who was there. */
  crew: CrewView[];
  /** The days. */
  days: DayBody[];
  /** Deeper sites were not visited by rule. */
  depth_cap_m: number | null;
  /** Last day, ISO. */
  end: string | null;
  /** Remark. */
  note: string;
  /** Written protocol and its version. */
  protocol: string;
  /** First day, ISO. */
  start: string | null;
  /** Rake throws a site. */
  throws_per_site: number;
}

/** A header someone else changed meanwhile: both versions, nothing written. */
export interface HeaderConflictView {
  /** What stands. */
  current: HeaderEntry;
  /** What to do. */
  hint: string;
  /** What happened. */
  message: string;
  /** What was sent. */
  yours: HeaderBody;
}

/** A header as it stands. */
export interface HeaderEntry {
  /** When, RFC 3339 in UTC. */
  changed_at: string;
  /** Who wrote it last. */
  changed_by: string;
  /** What it says. */
  header: HeaderBody;
  /** The version, to be sent back as `base_version`. */
  version: string;
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

/** The kit list as text. */
export interface KitText {
  /** One thing a line; a line that begins with `#` is a heading, one with `~` stays ashore and is not printed. */
  text: string;
}

/** Measures of the whole lake. */
export interface LakeView {
  /** Area on the ellipsoid, islands left out. */
  area_m2: number;
  /** Side of a cell of the depth model. */
  cell_m: number | null;
  /** System the computation was done in, `EPSG:n`. */
  crs: string;
  datum_distance: DatumDistanceView | null;
  /** Where the depths come from, in words. */
  depth_source: string | null;
  error: DepthErrorView | null;
  fetch_m: FetchView | null;
  /** Area and volume by depth. */
  hypsography: HypsographyRow[];
  /** Interpolation between the depths. */
  interpolation: string | null;
  interpolation_not_taken: NotTakenView | null;
  /** Number of islands. */
  island_count: number;
  /** Each island. */
  islands: IslandView[];
  /** Level of the water above the reference the depths count from. */
  level_m: number;
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
  /** What was noticed about the depths. */
  remarks: string[];
  /** How area and volume were computed: `grid`, `frustum`, `trapezoid`, `raster-cells`. */
  rule: string | null;
  /** The rules these depths allow. */
  rules: string[];
  /** Shoreline development, all shores. */
  shoreline_development: number;
  slope: SlopeView | null;
  /** The same between the depths at which the map changes colour. */
  slope_by_depth: SlopeBandView[];
  /** Number of depths the model rests on. */
  soundings: number;
  /** Volume. */
  volume_m3: number | null;
  /** Zones. */
  zones: ZoneView[];
}

/** A place on or by the lake. */
export interface LandmarkAsk {
  /** Where, `[x, y]` in metres of the working system. */
  at: number[];
  /** `landmark`, `launch` or `hazard`. */
  kind: string;
  /** Its name. */
  name: string;
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
  /** Where the deep limit comes from: `depth-range`, `chosen` or `secchi`. */
  limit: string;
  /** Deep limit. */
  max_depth_m: number;
  /** Shallow limit. */
  min_depth_m: number;
  /** What the other regressions give. */
  other_regressions: OtherRegressionView[];
  /** The limits the book keeps, shallow and deep. */
  own_m: number[];
  regression: RegressionView | null;
  /** Secchi depth the limit was reckoned from. */
  secchi_m: number | null;
  slope: SlopeView | null;
  /** The upper limit of what was observed, where the source gives one. */
  upper_limit_m: number | null;
}

/** Mann–Kendall test. */
export interface MannKendallView {
  /** True when all orders were counted. */
  exact: boolean;
  /** Two-sided p value. */
  p: number;
  /** Rises less falls over all pairs of years. */
  s: number;
  /** Sen's slope, a proportion a year. */
  sens_slope: number;
  /** Its upper limit. */
  sens_slope_high: number;
  /** Its lower limit. */
  sens_slope_low: number;
  /** Values. */
  values: number;
  /** Its variance when there is no trend. */
  variance: number;
  /** Standard normal score. */
  z: number;
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
  /** Level of the water above the reference the depths count from. */
  level_m: number;
  limit: ContourView | null;
  /** GeoJSON geometry of the lake, islands as holes. */
  outline: unknown;
  /** Sub-areas. */
  sub_areas: ShapeView[];
  /** Treatments. */
  treatments: ShapeView[];
  /** Zones. */
  zones: ShapeView[];
}

/** What a shape would measure. */
export interface MeasureView {
  /** Area of its water. */
  area_m2: number;
  /** What would be wrong with it. */
  flags: FlagView[];
  /** Area within the littoral limits; none without depths. */
  littoral_area_m2: number | null;
  /** Mean depth. */
  mean_depth_m: number | null;
  /** Length of the lake's shore in it. */
  shore_m: number | null;
  /** Volume. */
  volume_m3: number | null;
}

/** What a merge did. */
export interface MergeView {
  /** Edits kept beside for a person to choose. */
  conflicts: number;
  /** What was there twice and got a second name. */
  renamed: string[];
  /** Changes taken in. */
  taken: number;
}

/** A lake that gets a book. */
export interface NewLakeAsk {
  /** County; may be empty. */
  county: string;
  /** Name of the lake. */
  name: string;
  /** State or region code; may be empty. */
  region: string;
  /** `us` or `metric`; `us` when left out. */
  units: string | null;
}

/** A scale for a survey that begins. */
export interface NewScaleView {
  /** Whether it is another than the last survey was rated on, so that a reason is needed. */
  breaks: boolean;
  /** Key. */
  key: string;
  /** Name. */
  name: string;
}

/** A change beside what ordinary noise does. */
export interface NoiseBandView {
  /** The band: a change beyond ± this, or a similarity below it, is more than ordinary noise. */
  band: number;
  /** Whether it is. */
  beyond: boolean | null;
  /** Later less earlier, or the similarity. */
  change: number | null;
  /** Earlier; none for a similarity. */
  from: number | null;
  /** Stable key, e.g. `max-plant-depth`. */
  measure: string;
  /** Later. */
  to: number | null;
  /** What is measured. */
  words: string;
}

/** An interpolation that was tried and not taken. */
export interface NotTakenView {
  /** Its mean error at depths left out. */
  mean_m: number;
  /** Its name. */
  method: string;
}

/** A taxon on a throw as it is written. */
export interface ObservationBody {
  /** Code of the step; none when only presence was written down. */
  rating: string | null;
  /** `rake`, or `visual` for a plant seen beside it. */
  seen: string | null;
  /** Code of the taxon, now or before. */
  taxon: string;
}

/** Names of other detail that may mean one plant: a species and its genus. */
export interface OtherNamesView {
  /** Compared sites with one of them and not this one: earlier, later. */
  sites: number[];
  /** What may be said of them together. */
  together: string;
  /** This taxon and the others together, earlier. */
  together_from: CountView;
  /** Later. */
  together_to: CountView;
  /** Codes of the other names. */
  with: string[];
  /** A change was not said because another reading of the names does not bear it out. */
  withheld: boolean;
}

/** What another regression gives. */
export interface OtherRegressionView {
  /** Its key. */
  key: string;
  /** The limit by it. */
  limit_m: number;
}

/** A parameter of a layout. */
export interface ParameterView {
  /** Name, with the SI unit where it has one. */
  name: string;
  /** Value. */
  value: string;
}

/** One part before and after. */
export interface PartChangeView {
  /** After. */
  after: CountView;
  /** Before. */
  before: CountView;
  /** Whether the same sites were sampled both times. */
  same_sites: boolean;
}

/** A site and the part it lies in. */
export interface PartSiteView {
  /** After. */
  after: boolean | null;
  /** Whether any target came up before; none when not sampled. */
  before: boolean | null;
  /** Code. */
  code: string;
  /** `treated`, `untreated`, `both` or `neither`. */
  part: string;
  /** East. */
  x: number;
  /** North. */
  y: number;
}

/** A change a year. */
export interface PerYearView {
  /** Upper limit. */
  high: number;
  /** Lower limit. */
  low: number;
  /** Two-sided p value. */
  p: number;
  /** Change of the log odds a year. */
  value: number;
}

/** A photo of a survey; its picture is at `/api/photos/{id}`. */
export interface PhotoView {
  /** Letters the files of its camera begin with. */
  camera: string;
  /** Caption. */
  caption: string;
  /** Name of the file it came from. */
  file_name: string;
  /** Pixels down. */
  height: number | null;
  /** Key. */
  id: string;
  /** Latitude by the camera. */
  lat: number | null;
  /** Longitude by the camera. */
  lon: number | null;
  /** SHA-256 of the file it was made from. */
  original_sha256: string;
  /** SHA-256 of the picture kept. */
  sha256: string;
  /** Site of its visit. */
  site: string | null;
  /** Local time, the camera's clock put right. */
  taken: string | null;
  /** Code of the plant or unknown it shows. */
  taxon: string | null;
  /** Who was at the visit: its observer, else the crew. */
  who: string;
  /** Pixels across. */
  width: number | null;
  /** True when a ruler is in the picture. */
  with_ruler: boolean;
}

/** A place on Earth. */
export interface PlaceView {
  /** Degrees north, WGS 84. */
  latitude: number;
  /** Degrees east, WGS 84. */
  longitude: number;
  /** East, metres of the working system. */
  x: number;
  /** North, metres of the working system. */
  y: number;
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
  /** Rating scale; that of the last survey when left out. */
  scale: string | null;
  /** Why it is another scale than the surveys before were rated on. */
  scale_reason: string;
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

/** A plant that asks for an act at once. */
export interface PlantAlertView {
  /** What happened. */
  message: string;
  /** What to do, step by step. */
  steps: string[];
  /** Code of the plant. */
  taxon: string;
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

/** What the survey before was rated on. */
export interface ProgrammeScaleView {
  /** Its name. */
  name: string;
  /** Key of the scale. */
  scale: string;
  /** That survey. */
  survey: string;
}

/** Area under one rating. */
export interface RatingAreaView {
  /** Area. */
  area_m2: number;
  /** Code of the step; empty for finds without a rating. */
  code: string;
}

/** Change of a taxon's rating, sites without it rated zero. */
export interface RatingChangeView {
  /** Code. */
  code: string;
  /** Effect between −1 and 1. */
  effect: number | null;
  /** Its upper limit. */
  effect_high: number | null;
  /** Its lower limit; none for the rank-biserial correlation. */
  effect_low: number | null;
  /** `matched-pairs rank-biserial` or `Cliff's delta`; empty without an effect. */
  effect_method: string;
  /** Mean earlier. */
  mean_from: number;
  /** Mean later. */
  mean_to: number;
  /** Pairs rated both times; zero when the sites are different ones. */
  pairs: number;
  /** Sites by step, zero first. */
  steps: RatingShiftView[];
  wilcoxon: WilcoxonView | null;
}

/** Sites with one rating. */
export interface RatingCountView {
  /** Code of the step. */
  code: string;
  /** Sites. */
  sites: number;
}

/** Sites with one rating in both surveys. */
export interface RatingShiftView {
  /** Code of the step; empty for sites without the plant where the scale has no zero. */
  code: string;
  /** Earlier. */
  from: number;
  /** Later. */
  to: number;
}

/** What became of a file of records. */
export interface RecordedFileView {
  /** Introduced or listed plants that no other survey of the lake holds, with what to do. */
  alerts: PlantAlertView[];
  /** Columns, and what they were taken for. */
  columns: ColumnView[];
  /** Things that must be put right before the file can be stored; they stand among the rows left out. */
  faults: number;
  /** What the columns were taken for, as TOML, for next year. */
  map: string;
  /** Sites made from the file. */
  new_sites: number;
  /** Plants added to the lake's list. */
  new_taxa: TaxonListView[];
  /** Finds. */
  observations: number;
  /** True when nothing was stored. */
  preview: boolean;
  remembered: RememberedColumnsView | null;
  /** Rows read. */
  rows_read: number;
  /** Key of the scale. */
  scale: string;
  scale_break: ScaleBreakView | null;
  /** Rows left out. */
  skipped: SkippedRowView[];
  /** The visits as they were understood. */
  understood: UnderstoodView[];
  /** Codes of those a planned survey did not have: nobody laid them, or a code was misread. */
  unplanned: string[];
  /** Visits. */
  visits: number;
  /** What the user should know. */
  warnings: string[];
}

/** A regression of plants' greatest depth on Secchi depth. */
export interface RegressionView {
  /** Its key, e.g. `caffrey-2007`. */
  key: string;
  /** Who found it, from what. */
  source: string;
}

/** A file of records whose columns the book remembers. */
export interface RememberedColumnsView {
  /** Its name. */
  file: string;
  /** When, ISO. */
  kept_at: string;
  /** Survey it was recorded into. */
  survey: string;
}

/** What naming an unknown changed. */
export interface ResolutionView {
  /** Sealed surveys that were amended. */
  amended: string[];
  /** Code it has now. */
  code: string;
  /** Name it has now. */
  name: string;
  /** Visits, beds, finds, photos and specimens that name it. */
  places: number;
  /** Code it had. */
  was: string;
}

/** Species of two surveys brought to the same number of sites. */
export interface RichnessChangeView {
  /** Later minus earlier. */
  difference: EstimateView;
  /** Found at the compared sites: earlier, later. */
  found: number[];
  /** Expected earlier. */
  from: EstimateView;
  /** Codes found later only. */
  gained: string[];
  /** Codes found earlier only. */
  lost: string[];
  /** Sites both are brought to. */
  sites: number;
  /** Expected later. */
  to: EstimateView;
}

/** A jackknife or bootstrap estimate of the number of species. */
export interface RichnessEstimateView {
  /** Whose standard error it is. */
  method: string;
  /** Standard error. */
  se: number;
  /** Species. */
  value: number;
}

/** Number of taxa, found and estimated. Estimates are none where only counts were published, without plants, or with fewer than two sites. */
export interface RichnessView {
  /** Species expected at 1, 2, … sites. */
  accumulation: AccumulationView[];
  bootstrap: RichnessEstimateView | null;
  chao2: ChaoView | null;
  /** Share of all occurrences in the lake that are of species already found. */
  coverage: number | null;
  /** Species expected at more sites than were sampled, up to twice as many. */
  extrapolation: ExtrapolationView[];
  jackknife1: RichnessEstimateView | null;
  jackknife2: RichnessEstimateView | null;
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

/** What the user asks of a route, as typed. What is not said has its usual value; lengths and speeds carry their unit, a bare number is in the book's. */
export interface RouteWords {
  /** When they have to be back; sunset when not given. */
  back_by: string | null;
  /** Boats; one when not given. */
  boats: number | null;
  /** Seconds to search for a better order; two when not given. */
  budget: number | null;
  /** Sites in order from the least infested to the most, by the last survey with a record. */
  cleanest_first: boolean | null;
  /** The first day, ISO; today when not given. */
  date: string | null;
  /** Days; one when not given. */
  days: number | null;
  /** Water the boat needs, such as `1ft`. */
  draft: string | null;
  /** Sites to visit early, and to leave out last: codes with commas between them. */
  early: string | null;
  /** Site to visit first, by code. */
  first: string | null;
  /** Launch, by name; the lake's only one when not given. */
  from: string | null;
  /** Site to visit last, by code. */
  last: string | null;
  /** Minutes a site; from depth and throws when not given. */
  minutes_per_site: number | null;
  /** A rest: when, and for how many minutes, such as `12:00/30`. */
  rest: string | null;
  /** Draws the search. */
  seed: number | null;
  /** Speed between sites, such as `5mph` or `8km/h`; `4mph` when not given. */
  speed: string | null;
  /** When the boats leave, such as `08:30`. */
  start: string | null;
  /** Name of the survey. */
  survey: string;
  /** Where the boats end, by name; back at the launch when not given. */
  to: string | null;
  /** One site tried at another place, for a look: its code, and east and north on the map, such as `14/380963/4939616`. A route that is kept takes the sites as they stand. */
  try_at: string | null;
  /** Hours local time is ahead of UTC; from the lake's state, else this machine's, when not given. */
  utc_offset: number | null;
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

/** A surface bed to be kept. */
export interface SaveBed {
  /** The bed. */
  bed: BedBody;
  /** Who is writing. */
  by: string;
  /** Key of the one to change; none for a new one. */
  id: string | null;
}

/** Which of two entries is right. */
export interface SaveChoice {
  /** Boxes the choice is about, `depth`, `bottom`, `throw 1`, `outcome`, `note`; the whole entry when none is named. */
  boxes: string[];
  /** Who chooses. */
  by: string;
  /** `first` or `second`. */
  keep: string;
}

/** A photo whose true time is known: the clock of its camera is put right by it. */
export interface SaveClock {
  /** Who says so. */
  by: string;
  /** Key of the photo. */
  id: string;
  /** Its true local time: `2026-07-14T09:15`, or `09:15` of the day the camera says. */
  time: string;
}

/** A conflict to be settled. */
export interface SaveConflict {
  /** Who chooses. */
  by: string;
  /** Key of the conflict. */
  id: string;
  /** `current` or `other`. */
  keep: string;
}

/** Something to be deleted or taken back. */
export interface SaveDeletion {
  /** The version that was seen. */
  base_version: string | null;
  /** Who is writing. */
  by: string;
}

/** A header to be kept. */
export interface SaveHeader {
  /** The version it was made from. */
  base_version: string | null;
  /** Who is writing. */
  by: string;
  /** The header, whole. */
  header: HeaderBody;
}

/** One save of the change log. */
export interface SaveLogView {
  /** When, RFC 3339 in UTC. */
  at: string;
  /** Who. */
  by: string;
  /** What it changed, such as `visit of site 14`. */
  changed: string[];
  /** The device it was made on. */
  device: string;
  /** Key. */
  id: string;
  /** What a person reads. */
  note: string;
}

/** What a photo shows. */
export interface SavePhoto {
  /** Who says so. */
  by: string;
  /** Caption. */
  caption: string;
  /** Code of the site whose visit it belongs to. */
  site: string | null;
  /** Code of the plant or unknown it shows. */
  taxon: string | null;
  /** True when a ruler is in the picture. */
  with_ruler: boolean;
}

/** An unknown to be named. */
export interface SaveResolution {
  /** Who named it. */
  by: string;
  /** Code of the unknown. */
  code: string;
  /** `photo`, `specimen`, `expert` or `dna`. */
  evidence: string;
  /** What it is: a name, or a code of the lake's list. */
  name: string;
  /** Remark. */
  note: string;
  /** The day it was named, ISO. */
  on: string | null;
}

/** Another scale for a survey, or the reason for the one it has. */
export interface SaveScale {
  /** Who is writing. */
  by: string;
  /** Why. */
  reason: string;
  /** Key of the scale. */
  scale: string;
}

/** A find to be confirmed as it is. */
export interface SaveSettlement {
  /** Who says so. */
  by: string;
  /** Name of the find. */
  id: string;
  /** Why it is right as it is; empty opens it again. */
  reason: string;
}

/** A shoreline find to be kept. */
export interface SaveShoreline {
  /** Who is writing. */
  by: string;
  /** The find. */
  find: ShorelineBody;
  /** Key of the one to change; none for a new one. */
  id: string | null;
}

/** A taxon to be put on the lake's list. */
export interface SaveTaxon {
  /** Who is writing. */
  by: string;
  /** Code; one is proposed when none is given. */
  code: string | null;
  /** Common name, for one the catalogue does not know. */
  common_name: string | null;
  /** Growth form, as a key. */
  growth_form: string | null;
  /** Listed noxious in this lake's state. */
  listed_noxious: boolean | null;
  /** Scientific, common or old name; the catalogue fills in the rest when it knows it. */
  name: string;
  /** Origin, as a key. */
  origin: string | null;
  /** Rank, as a key. */
  rank: string | null;
}

/** A visit to be kept. */
export interface SaveVisit {
  /** The version it was made from; none when there was no visit. */
  base_version: string | null;
  /** Who is writing. */
  by: string;
  /** The visit, whole. */
  visit: VisitBody;
  /** Why a sealed record is changed: then the save is an amendment, signed by whoever writes. Left out for a record that is open. */
  why: string | null;
}

/** A visit kept: as it now stands, and what is to be said of it. */
export interface SavedVisit {
  /** Plants that ask for an act at once. */
  alerts: PlantAlertView[];
  /** What the check says of this site. */
  finds: CheckView[];
  saved: VisitEntry | null;
}

/** A survey rated on another scale than the one before it. */
export interface ScaleBreakView {
  /** What the survey before was rated on. */
  before: ProgrammeScaleView;
  /** Why; empty when nobody said. */
  reason: string;
  /** Key of the scale of this one. */
  scale: string;
}

/** A scale to choose. */
export interface ScaleChoiceView {
  /** Key. */
  key: string;
  /** Codes written in the survey that it has not; only a scale that lacks none can be taken. */
  lacks: string[];
  /** Name. */
  name: string;
}

/** How a survey is rated, and what it could be rated on. */
export interface ScaleStandView {
  /** Scales it could be rated on. */
  choices: ScaleChoiceView[];
  /** Whether it is rated on something else than that. */
  differs: boolean;
  programme: ProgrammeScaleView | null;
  /** How many ratings are written. */
  ratings: number;
  /** Why it is another than the surveys before were rated on; empty when nobody said. */
  reason: string;
  /** What it is rated on. */
  scale: ScaleView;
  /** Whether it is sealed, so that the scale stands. */
  sealed: boolean;
  /** The survey. */
  survey: string;
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

/** What a survey that begins now can be rated on. */
export interface ScalesView {
  /** The scales. */
  choices: NewScaleView[];
  programme: ProgrammeScaleView | null;
  /** Key of the scale that is taken when nobody says. */
  usual: string;
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

/** Two people's entries of one sheet side by side. */
export interface SecondEntriesView {
  /** Sites where they do not. */
  different: EntryDifferenceView[];
  /** Sites entered a second time. */
  entered: number;
  /** The second entries as they stand. */
  entries: VisitEntry[];
  /** Sites where both say the same. */
  same: number;
}

/** A photo sent by itself. */
export interface SentPhotoView {
  /** True when the book had it before. */
  known: boolean;
  photo: PhotoView | null;
  /** What is odd about it. */
  warnings: string[];
}

/** A sentence and what it rests on. */
export interface SentenceView {
  /** Anchor in `docs/methods.md`. */
  anchor: string;
  /** True when the answer is that nobody can tell. */
  cannot_tell: boolean;
  /** The figures behind it. */
  figures: FigureView[];
  /** The question it answers. */
  question: string;
  /** The sentence. */
  sentence: string;
  /** `here`, `new`, `changed`, `moved`, `worked` or `sure`. */
  topic: string;
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

/** Field sheets read back. */
export interface SheetScanView {
  /** Name of the picture's file. */
  file: string;
  /** True when the book had it before. */
  known: boolean;
  /** SHA-256 of the picture's file. */
  sha256: string;
  /** Sheet as printed: a number, `S1` for a spare. */
  sheet: string;
  /** Number of sheets it was printed with. */
  sheets: number;
  /** Codes of its rows. */
  sites: string[];
  /** Survey. */
  survey: string;
  /** What the user should know. */
  warnings: string[];
}

/** A lake book among others. */
export interface ShelfBookView {
  /** Its file, which is its name in the address. */
  file: string;
  /** Last write, RFC 3339 in UTC. */
  last_write: string | null;
  /** Name of the lake. */
  name: string;
  /** Why it cannot be opened; empty when it can. */
  problem: string;
  /** State or region code; empty when none. */
  region: string;
  /** Number of surveys. */
  surveys: number;
}

/** The lake books of a folder. */
export interface ShelfView {
  /** Its books, by file name. */
  books: ShelfBookView[];
  /** Name of the folder; none when this server has one book and no folder. */
  folder: string | null;
}

/** Shift of a middle. */
export interface ShiftView {
  /** Upper limit. */
  high: number;
  /** Lower limit; below zero where resampled shifts point the other way. */
  low: number;
  /** Permutation p of no shift. */
  p: number;
  /** Metres by water. */
  value: number;
}

/** A taxon on the shore. */
export interface ShoreView {
  /** Code of the taxon. */
  code: string;
  /** Of these without a position, in no length. */
  not_placed: number;
  /** Places on the shore with it. */
  places: number;
  /** Length of the shore there; none without an outline. */
  shore_m: number | null;
  /** Shortest stretch of shore that holds all its places there, metres; 0 for one place alone, none without an outline or a position. */
  stretch_m: number | null;
  /** Code of the zone; none over all. */
  zone: string | null;
}

/** A shoreline find as it is written. */
export interface ShorelineBody {
  /** Latitude, when known. */
  lat: number | null;
  /** Longitude, when known. */
  lon: number | null;
  /** Remark. */
  note: string;
  /** Code of the plant. */
  taxon: string;
  /** Zone, when that is all that is known. */
  zone: string | null;
}

/** A shoreline find as it stands. */
export interface ShorelineEntry {
  /** What it says. */
  find: ShorelineBody;
  /** Key. */
  id: string;
}

/** A change and who makes it. */
export interface SignedView {
  /** Who is writing. */
  by: string;
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
  /** How far the edge of a bed as drawn lies from the true one on average, where a bed is measured. */
  edge_m: (number | null)[];
  /** 95 of 100 estimates lay below. */
  high: (number | null)[];
  /** Hours on the water. */
  hours: number[];
  /** 95 of 100 estimates lay above (frequency; number of species; acreage over the true one); none where nothing is estimated. */
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

/** A change to a planned site, as asked for by a screen. */
export interface SiteAsk {
  /** `move`, `drop`, `restore` or `add`. */
  action: string;
  /** Who decided; kept with the change. */
  by: string;
  /** Latitude. */
  lat: number | null;
  /** Longitude of the place to move to or to add; with `lat`, or give `x` and `y`. */
  lon: number | null;
  /** Why; kept with the change. */
  reason: string;
  /** For `drop`: the first spare takes its place. */
  use_spare: boolean;
  /** East in the working system, as on the map. */
  x: number | null;
  /** North in the working system. */
  y: number | null;
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

/** What one site gained and lost. */
export interface SiteGainView {
  /** Code of the site. */
  code: string;
  /** Codes of taxa found the second time only; `any` when there was no plant before. */
  gained: string[];
  /** Codes found both times. */
  kept: string[];
  /** Latitude. */
  lat: number | null;
  /** Longitude; none for a place known only by name. */
  lon: number | null;
  /** Codes found the first time only; `any` when no plant is left. */
  lost: string[];
  /** East in metres of the working system. */
  x: number | null;
  /** North. */
  y: number | null;
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
  /** Taken out of the plan: why and by whom; none for a site that stands. */
  dropped: string | null;
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
  /** Kept in reserve. */
  spare: boolean;
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

/** A row left out. */
export interface SkippedRowView {
  /** Why. */
  reason: string;
  /** Row, as a spreadsheet numbers it. */
  row: number;
}

/** How steep the bed is between two depths. */
export interface SlopeBandView {
  /** Shallow side. */
  from_m: number;
  slope: SlopeView | null;
  /** Deep side; none for the deepest band. */
  to_m: number | null;
}

/** The slope of the bed, per cent. */
export interface SlopeView {
  /** Cells of the depth model it was found on. */
  cells: number;
  /** Mean. */
  mean_percent: number;
  /** Half is flatter. */
  median_percent: number;
  /** 95 of 100 are flatter. */
  p95_percent: number;
}

/** A name that fits what was typed. */
export interface SpeciesMatchView {
  /** Code on the lake's list; none for a plant only the catalogue has. */
  code: string | null;
  /** Common name. */
  common_name: string;
  /** The name of it that fits, when it is another. */
  matched: string;
  /** Scientific name. */
  scientific_name: string;
  /** Letters that differ; 0 when what was typed stands in the name. */
  slips: number;
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

/** An area to be parted by a line. */
export interface SplitAsk {
  /** Code of the part cut off; the next free one when not said. */
  code: string | null;
  /** Surveys made before keep the zone whole; so when not said. */
  keep_past: boolean | null;
  /** The line, `[x, y]` in metres of the working system. */
  line: number[][];
}

/** A site that gained or lost a plant. */
export interface SpreadSiteView {
  /** Code. */
  code: string;
  /** Latitude. */
  lat: number | null;
  /** Way to it by water. */
  launch_m: number | null;
  /** Longitude. */
  lon: number | null;
  /** Launch nearest by water, for sites gained. */
  nearest_launch: string | null;
  /** East. */
  x: number | null;
  /** North. */
  y: number | null;
}

/** Where a plant moved between two surveys. */
export interface SpreadView {
  along_shore: AlongShoreView | null;
  /** Direction in degrees clockwise from the north of the grid. */
  bearing_deg: number | null;
  /** Code of the plant. */
  code: string;
  /** The same in words. */
  direction: string;
  /** Where and when it was found first, by zone, over all surveys of the book. */
  first_found: FirstFoundView[];
  /** Earlier survey. */
  from: SurveyBriefRef;
  /** Sites that gained it; empty when the sites are different ones. */
  gained: SpreadSiteView[];
  /** Water nearest to the sites that gained it; none without an outline or without pairs. */
  gained_m2: number | null;
  /** Sites that kept it. */
  kept: SpreadSiteView[];
  /** Sites that lost it. */
  lost: SpreadSiteView[];
  /** Water nearest to the sites that lost it. */
  lost_m2: number | null;
  /** Where `docs/methods.md` explains a figure: its key here, the anchor there. */
  methods: Record<string, string>;
  /** Middle earlier, `[x, y]` in metres of the working system. */
  middle_from: number[] | null;
  /** Middle later. */
  middle_to: number[] | null;
  /** What it is called. */
  name: string;
  /** Resamples and permutations. */
  resamples: number;
  /** Scientific name. */
  scientific_name: string;
  /** Their seed. */
  seed: number;
  /** The answer in a sentence. */
  sentence: string;
  shift_m: ShiftView | null;
  /** Later survey. */
  to: SurveyBriefRef;
  /** What differs between the two surveys. */
  warnings: WarningView[];
  /** Why there is no shift; empty when there is. */
  why_not: string;
  /** Every survey with its finds, for small multiples of the years. */
  years: SpreadYearView[];
  /** Zones where it was found later only. */
  zones_gained: string[];
  /** Zones where it was found earlier only. */
  zones_lost: string[];
}

/** One survey's finds of a plant. */
export interface SpreadYearView {
  /** Places where it was looked for and did not come up. */
  blank: number[][];
  /** First day. */
  date: string | null;
  /** Places `[x, y]` where it came up. */
  found: number[][];
  /** Whether it was looked for. */
  looked_for: boolean;
  /** Survey. */
  survey: string;
}

/** A step of a scale. */
export interface StepView {
  /** Code on the sheet. */
  code: string;
  /** How it is measured in the boat. */
  measure: string;
  /** Name. */
  name: string;
  /** False for the step of plants seen beside the rake. */
  on_rake: boolean;
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
  names: OtherNamesView | null;
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

/** What happened to one plant. */
export interface TaxonEffectView {
  /** Code. */
  code: string;
  /** Common name. */
  common_name: string;
  /** What happened. */
  effect: EffectView;
  /** Origin. */
  origin: string;
  /** Scientific name. */
  scientific_name: string;
}

/** One taxon. */
export interface TaxonFindingView {
  /** Coefficient of conservatism. */
  c: number | null;
  /** Code. */
  code: string;
  /** Common name. */
  common_name: string;
  depth_quartiles: DepthQuartilesView | null;
  /** Sites by depth of the water. */
  depths: DepthCountView[];
  /** Shares. */
  frequency: AllLittoralVegetated;
  /** Growth form, as a key. */
  growth_form: string;
  /** Counts in statistics of plants. */
  is_plant: boolean;
  /** Listed noxious where the lake lies. */
  listed_noxious: boolean;
  /** False for a taxon outside the survey's scope that turned up all the same. */
  looked_for: boolean;
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

/** A taxon of the lake's list. */
export interface TaxonListView {
  /** Code. */
  code: string;
  /** Common name. */
  common_name: string;
  /** Growth form. */
  growth_form: string;
  /** Origin. */
  origin: string;
  /** Scientific name. */
  scientific_name: string;
}

/** A rake throw as it is written. */
export interface ThrowBody {
  /** 1, 2, 3 … */
  number: number;
  /** What was on it, and what was seen beside it. */
  observations: ObservationBody[];
  /** Code of the step for everything on the rake together. */
  total: string | null;
}

/** A contour as traced. */
export interface TracedContour {
  /** Its depth. */
  depth_m: number;
  /** The line, `[x, y]` in metres of the working system. */
  line: number[][];
}

/** What a track says of a site. */
export interface TrackSiteView {
  /** When it came, local time, ISO. */
  arrive: string | null;
  /** Code. */
  code: string;
  /** Where the boat was. */
  lat: number | null;
  /** Where the boat was. */
  lon: number | null;
  /** True when the crew marked a waypoint of that name. */
  marked: boolean;
  /** Minutes it stayed. */
  minutes: number | null;
  /** True when it did not come. */
  missed: boolean;
  /** Nearest the boat came. */
  nearest_m: number | null;
  /** How far from the plan the boat worked. */
  off_m: number | null;
  /** Where the boat was on the map, metres east. */
  x: number | null;
  /** Where the boat was on the map, metres north. */
  y: number | null;
}

/** A track against the plan. */
export interface TrackView {
  /** Last hour. */
  end: string | null;
  /** Name of the file. */
  file: string;
  /** Codes of the sites the boat did not come to; spares are not missed. */
  missed: string[];
  /** Points of the track. */
  points: number;
  /** Each planned site, in the order of the plan. */
  sites: TrackSiteView[];
  /** First hour, local time, ISO. */
  start: string | null;
  /** Visits that got their position from the track. */
  stored: number;
  /** Survey. */
  survey: string;
  /** What the user should know. */
  warnings: string[];
  /** Waypoints. */
  waypoints: number;
  /** The boat's way on the map, metres east and north, a line for each stretch the receiver was on. */
  ways: number[][][];
  /** A boat this near was at the site. */
  within_m: number;
  /** Visits that have no position of their own and would get the boat's. */
  without_position: number;
}

/** A treatment of the lake. */
export interface TreatmentView {
  /** Area of its outline within the lake's scale. */
  area_m2: number;
  /** The survey before, where the book says so. */
  before: string | null;
  /** Who did it, under which permit. */
  by: string;
  /** Its short code, `T1`, `T2`, … in the order of the book. */
  code: string;
  /** Last day. */
  end: string;
  /** GeoJSON geometry in metres of the working system. */
  geometry: unknown;
  /** Where a label stands, `[x, y]`. */
  label: number[];
  /** Method, as a key. */
  method: string;
  /** Name. */
  name: string;
  /** Remark. */
  note: string;
  /** Area as reported by who did it. */
  reported_area_m2: number | null;
  /** First day. */
  start: string;
}

/** One survey in a trend. */
export interface TrendPointView {
  /** The day halfway through it, ISO. */
  date: string | null;
  /** Share the model gives on that day; none when nothing was fitted or it takes no part. */
  fitted: number | null;
  /** Upper limit. */
  high: number | null;
  /** Sites where found. */
  k: number;
  /** Why it takes no part; empty when it does. */
  left_out: string;
  /** Lower limit, Wilson 95 %. */
  low: number | null;
  /** Sites looked at. */
  n: number;
  /** Sites more where it may have been written down under another name: its genus, or one of its species. */
  named_otherwise: number;
  /** Share. */
  p: number | null;
  /** Number of the stretch between breaks, from 0. */
  stretch: number;
  /** Survey. */
  survey: string;
  /** The same as a year with decimals. */
  year: number | null;
}

/** What several surveys say of one plant over the years. */
export interface TrendView {
  /** Where scale or method changed: surveys on both sides are not compared with each other. */
  breaks: BreakView[];
  /** Code of the plant; `any` for all plants together. */
  code: string;
  /** Surveys less coefficients. */
  degrees_of_freedom: number | null;
  /** Smallest change of the log odds a year that would have shown 8 times in 10. */
  detectable: number | null;
  mann_kendall: MannKendallView | null;
  /** Why there is none; empty when there is. */
  mann_kendall_why_not: string;
  /** Where `docs/methods.md` explains a figure: its key here, the anchor there. */
  methods: Record<string, string>;
  /** Name of the model. */
  model: string;
  /** What it is called. */
  name: string;
  odds_ratio: EstimateView | null;
  /** Origin; empty for `any`. */
  origin: string;
  /** How much more than a binomial the surveys vary, 1 for alike. */
  overdispersion: number | null;
  per_year: PerYearView | null;
  /** Scientific name; empty for `any`. */
  scientific_name: string;
  /** The answer in a sentence. */
  sentence: string;
  /** Depth all surveys reached, when some stopped by rule. */
  shared_depth_m: number | null;
  /** Every survey, the earliest first. */
  surveys: TrendPointView[];
  /** Surveys in the fit. */
  surveys_used: number;
  /** `rising`, `falling` or `cannot tell`. */
  verdict: string;
  /** Why nothing was fitted; empty when it was. */
  why_not: string;
}

/** All taxa in brief. */
export interface TrendsView {
  /** What one survey gave as a note; empty when nothing. */
  notes: string[];
  /** Any plant first, then every taxon found in any survey. */
  taxa: TrendView[];
}

/** A visit as it was understood from a file. */
export interface UnderstoodView {
  /** Depth measured. */
  depth_m: number | null;
  /** Why it was not sampled, as a key; none when it was. */
  not_sampled: string | null;
  /** Remark. */
  note: string;
  /** Bottom, as a key. */
  sediment: string | null;
  /** Code of the site. */
  site: string;
  /** What each throw brought up, as codes with their ratings; a bare rake is `0`. */
  throws: string[];
  /** Local time, ISO. */
  time: string | null;
}

/** The save to be taken back, as the page knows it. */
export interface UndoAsk {
  /** Its note. */
  note: string;
}

/** What an undo took back. */
export interface UndoneView {
  /** Note of the save that was taken back; none when there was nothing left. */
  undone: string | null;
}

/** How unlike points are at a distance: `nugget + partial·(1 − e^(−3h/range))`. */
export interface VariogramView {
  /** Unlikeness at one place. */
  nugget: number;
  /** What distance adds. */
  partial: number;
  /** Distance at which 95 % of it is reached. */
  range_m: number;
}

/** What `verify` found. */
export interface VerifyView {
  /** What does not. */
  broken: BrokenView[];
  /** True when everything holds. */
  ok: boolean;
  /** Surveys with a seal. */
  sealed: number;
}

/** A visit as it is written: any part may be missing while the sheet is being typed. */
export interface VisitBody {
  /** Stated accuracy of the position. */
  accuracy_m: number | null;
  /** Depth measured. */
  depth_m: number | null;
  /** Latitude of the boat. */
  lat: number | null;
  /** Longitude of the boat. */
  lon: number | null;
  /** Why it was not sampled, as a key; none when it was, or while nobody knows. */
  not_sampled: string | null;
  /** Remark. */
  note: string;
  /** Who wrote it. */
  observer: string;
  /** Of these, native. */
  reported_native_species: number | null;
  /** Species counted where a publisher gave no names. */
  reported_species: number | null;
  /** Bottom, as a key. */
  sediment: string | null;
  /** Rake throws; one without plants is a bare rake. */
  throws: ThrowBody[];
  /** Local time, `2026-07-14T09:15`, or `09:15` in a survey of one day. */
  time: string | null;
}

/** A visit someone else changed meanwhile: both versions, nothing written. */
export interface VisitConflictView {
  current: VisitEntry | null;
  /** What to do. */
  hint: string;
  /** What happened. */
  message: string;
  yours: VisitBody | null;
}

/** A visit as it stands. */
export interface VisitEntry {
  /** When, RFC 3339 in UTC. */
  changed_at: string;
  /** Who wrote it last. */
  changed_by: string;
  /** `sampled-with-plants`, `sampled-without-plants`, or why not. */
  outcome: string;
  /** Code of the site. */
  site: string;
  /** The version, to be sent back as `base_version`. */
  version: string;
  /** What it says. */
  visit: VisitBody;
}

/** Something that restricts the comparison. */
export interface WarningView {
  /** Stable kind, e.g. `scale`, `season`, `observers`, `depth-cap`. */
  kind: string;
  /** In words. */
  message: string;
}

/** A share of all places that could have been chosen. */
export interface WeightedEstimateView {
  /** Upper limit. */
  high: number;
  /** Lower limit. */
  low: number;
  /** Places there are, the sum of `1/π`. */
  places: number;
  /** Standard error. */
  se: number;
  /** Sites it rests on. */
  sites: number;
  /** Places with it (Horvitz–Thompson). */
  total: number;
  /** Standard error of the total. */
  total_se: number;
  /** Share (Hájek). */
  value: number;
  /** `local mean` or `with replacement`. */
  variance: string;
}

/** One taxon with the weights of the layout. */
export interface WeightedTaxonView {
  /** Code. */
  code: string;
  /** Its frequency. */
  estimate: WeightedEstimateView;
}

/** Frequencies with the weights of the layout. */
export interface WeightedView {
  /** Any plant. */
  any: WeightedEstimateView;
  /** Sampled sites without an inclusion probability, left out. */
  left_out: number;
  /** Taxa found on the rake, by code in the order of the lake's list. */
  taxa: WeightedTaxonView[];
}

/** Wilcoxon's signed-rank test. */
export interface WilcoxonView {
  /** Sites that changed. */
  changed: number;
  /** Whether all assignments of signs were counted. */
  exact: boolean;
  /** Sum of the ranks of falls. */
  falls: number;
  /** Two-sided p value. */
  p: number;
  /** Sites that did not. */
  unchanged: number;
  /** Sum of the ranks of rises. */
  v: number;
  /** What was done with those: `pratt` or `wilcoxon`. */
  zero_rule: string;
}

/** A word of a fixed list. */
export interface WordView {
  /** Key, as it is sent. */
  key: string;
  /** Words a person reads. */
  words: string;
}

/** The comparison within one zone. */
export interface ZoneChangeView {
  /** Any plant. */
  any: TaxonChangeView;
  /** `paired` or `independent`. */
  design: string;
  /** Taxa; p values adjusted within the zone. */
  taxa: TaxonChangeView[];
  /** Code of the zone. */
  zone: string;
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
  /** What may be done there, in words; empty when nothing is said. */
  rule: string;
  /** Length of the lake's shore in the zone. */
  shore_m: number | null;
  /** Year it was first used; none for one that was always there. */
  since: number | null;
  /** Sub-areas in it. */
  sub_areas: number;
  /** Year it was last used; none for one in use. */
  until: number | null;
  /** Volume. */
  volume_m3: number | null;
}

/** Every schema by its name. */
export interface Contract {
  AccumulationView: AccumulationView;
  AcresView: AcresView;
  AddSite: AddSite;
  AddView: AddView;
  AgreementTaxonView: AgreementTaxonView;
  AgreementView: AgreementView;
  AlertView: AlertView;
  AllLittoral: AllLittoral;
  AllLittoralVegetated: AllLittoralVegetated;
  AlongShoreView: AlongShoreView;
  AmendmentView: AmendmentView;
  AreaAsk: AreaAsk;
  BackgroundView: BackgroundView;
  BandView: BandView;
  BedBody: BedBody;
  BedEntry: BedEntry;
  BedsView: BedsView;
  BeginSurvey: BeginSurvey;
  BoardLimitView: BoardLimitView;
  BoatView: BoatView;
  BookView: BookView;
  BreakView: BreakView;
  BrokenView: BrokenView;
  ChaoView: ChaoView;
  CheckView: CheckView;
  CloseRecord: CloseRecord;
  ColumnView: ColumnView;
  CommunityView: CommunityView;
  CompareView: CompareView;
  ConditionsView: ConditionsView;
  ConflictFieldView: ConflictFieldView;
  ConflictView: ConflictView;
  ContourView: ContourView;
  ContoursAsk: ContoursAsk;
  ContrastView: ContrastView;
  ControlPointView: ControlPointView;
  ControlView: ControlView;
  CornerAsk: CornerAsk;
  CountView: CountView;
  CrewView: CrewView;
  CurveView: CurveView;
  DatumDistanceView: DatumDistanceView;
  DayBody: DayBody;
  DaylightView: DaylightView;
  DensityView: DensityView;
  DepthCountView: DepthCountView;
  DepthErrorView: DepthErrorView;
  DepthQuartilesView: DepthQuartilesView;
  DesignView: DesignView;
  DesignsView: DesignsView;
  DetectionView: DetectionView;
  DifferenceView: DifferenceView;
  DistanceAreaView: DistanceAreaView;
  DistanceBandView: DistanceBandView;
  DistanceView: DistanceView;
  DiversityView: DiversityView;
  DrawView: DrawView;
  DrawnAreaView: DrawnAreaView;
  DrawnContourView: DrawnContourView;
  DrawnLandmarkView: DrawnLandmarkView;
  EffectView: EffectView;
  EfficacyView: EfficacyView;
  EffortView: EffortView;
  EntryDifferenceView: EntryDifferenceView;
  EntrySiteView: EntrySiteView;
  EntryTaxonView: EntryTaxonView;
  EntryView: EntryView;
  ErrorBody: ErrorBody;
  EstimateView: EstimateView;
  ExtentPointView: ExtentPointView;
  ExtentView: ExtentView;
  ExtrapolationView: ExtrapolationView;
  FetchView: FetchView;
  FigureView: FigureView;
  FindingsView: FindingsView;
  FirstFoundView: FirstFoundView;
  FlagView: FlagView;
  FloristicView: FloristicView;
  FormulaView: FormulaView;
  FrequencyView: FrequencyView;
  GeometryAsk: GeometryAsk;
  GroupTaxonView: GroupTaxonView;
  GroupView: GroupView;
  HeaderBody: HeaderBody;
  HeaderConflictView: HeaderConflictView;
  HeaderEntry: HeaderEntry;
  HypsographyRow: HypsographyRow;
  IslandView: IslandView;
  JudgedView: JudgedView;
  KitText: KitText;
  LakeView: LakeView;
  LandmarkAsk: LandmarkAsk;
  LandmarkView: LandmarkView;
  LegView: LegView;
  LittoralView: LittoralView;
  MannKendallView: MannKendallView;
  MapView: MapView;
  MeasureView: MeasureView;
  MergeView: MergeView;
  NewLakeAsk: NewLakeAsk;
  NewScaleView: NewScaleView;
  NoiseBandView: NoiseBandView;
  NotTakenView: NotTakenView;
  ObservationBody: ObservationBody;
  OtherNamesView: OtherNamesView;
  OtherRegressionView: OtherRegressionView;
  ParameterView: ParameterView;
  PartChangeView: PartChangeView;
  PartSiteView: PartSiteView;
  PerYearView: PerYearView;
  PhotoView: PhotoView;
  PlaceView: PlaceView;
  PlanAsk: PlanAsk;
  PlanDepthView: PlanDepthView;
  PlanPartView: PlanPartView;
  PlanView: PlanView;
  PlannedSiteView: PlannedSiteView;
  PlantAlertView: PlantAlertView;
  PointAsk: PointAsk;
  ProgrammeScaleView: ProgrammeScaleView;
  RatingAreaView: RatingAreaView;
  RatingChangeView: RatingChangeView;
  RatingCountView: RatingCountView;
  RatingShiftView: RatingShiftView;
  RecordedFileView: RecordedFileView;
  RegressionView: RegressionView;
  RememberedColumnsView: RememberedColumnsView;
  ResolutionView: ResolutionView;
  RichnessChangeView: RichnessChangeView;
  RichnessEstimateView: RichnessEstimateView;
  RichnessView: RichnessView;
  RouteView: RouteView;
  RouteWords: RouteWords;
  RuleOfThumbView: RuleOfThumbView;
  SaveBed: SaveBed;
  SaveChoice: SaveChoice;
  SaveClock: SaveClock;
  SaveConflict: SaveConflict;
  SaveDeletion: SaveDeletion;
  SaveHeader: SaveHeader;
  SaveLogView: SaveLogView;
  SavePhoto: SavePhoto;
  SaveResolution: SaveResolution;
  SaveScale: SaveScale;
  SaveSettlement: SaveSettlement;
  SaveShoreline: SaveShoreline;
  SaveTaxon: SaveTaxon;
  SaveVisit: SaveVisit;
  SavedVisit: SavedVisit;
  ScaleBreakView: ScaleBreakView;
  ScaleChoiceView: ScaleChoiceView;
  ScaleStandView: ScaleStandView;
  ScaleView: ScaleView;
  ScalesView: ScalesView;
  SealView: SealView;
  SecondEntriesView: SecondEntriesView;
  SentPhotoView: SentPhotoView;
  SentenceView: SentenceView;
  ShapeView: ShapeView;
  SheetScanView: SheetScanView;
  ShelfBookView: ShelfBookView;
  ShelfView: ShelfView;
  ShiftView: ShiftView;
  ShoreView: ShoreView;
  ShorelineBody: ShorelineBody;
  ShorelineEntry: ShorelineEntry;
  SignedView: SignedView;
  SimulationView: SimulationView;
  SiteAsk: SiteAsk;
  SiteChangeView: SiteChangeView;
  SiteGainView: SiteGainView;
  SiteTaxonView: SiteTaxonView;
  SiteView: SiteView;
  SitesCountView: SitesCountView;
  SkippedRowView: SkippedRowView;
  SlopeBandView: SlopeBandView;
  SlopeView: SlopeView;
  SpeciesMatchView: SpeciesMatchView;
  SpeciesPerSiteView: SpeciesPerSiteView;
  SplitAsk: SplitAsk;
  SpreadSiteView: SpreadSiteView;
  SpreadView: SpreadView;
  SpreadYearView: SpreadYearView;
  StepView: StepView;
  StopView: StopView;
  SurveyBriefRef: SurveyBriefRef;
  SurveySitesView: SurveySitesView;
  SurveyView: SurveyView;
  TaxonChangeView: TaxonChangeView;
  TaxonEffectView: TaxonEffectView;
  TaxonFindingView: TaxonFindingView;
  TaxonListView: TaxonListView;
  ThrowBody: ThrowBody;
  TracedContour: TracedContour;
  TrackSiteView: TrackSiteView;
  TrackView: TrackView;
  TreatmentView: TreatmentView;
  TrendPointView: TrendPointView;
  TrendView: TrendView;
  TrendsView: TrendsView;
  UnderstoodView: UnderstoodView;
  UndoAsk: UndoAsk;
  UndoneView: UndoneView;
  VariogramView: VariogramView;
  VerifyView: VerifyView;
  VisitBody: VisitBody;
  VisitConflictView: VisitConflictView;
  VisitEntry: VisitEntry;
  WarningView: WarningView;
  WeightedEstimateView: WeightedEstimateView;
  WeightedTaxonView: WeightedTaxonView;
  WeightedView: WeightedView;
  WilcoxonView: WilcoxonView;
  WordView: WordView;
  ZoneChangeView: ZoneChangeView;
  ZoneCountView: ZoneCountView;
  ZoneView: ZoneView;
}

/** What is checked of each on arrival. */
export const shapes: { readonly [name in keyof Contract]: Record<string, Shape> } = {
  AccumulationView: {
    high: "number",
    low: "number",
    sites: "number",
    value: "number",
  },
  AcresView: {
    area_m2: { nullable: "number" },
    by_rating: { list: { ref: "RatingAreaView" } },
    code: "string",
    covered_m2: { nullable: { ref: "EstimateView" } },
    found: "number",
    high_m2: { nullable: "number" },
    looked_at: "number",
    low_m2: { nullable: "number" },
    method: "string",
    water_m2: "number",
    zone: { nullable: "string" },
  },
  AddSite: {
    by: "string",
    code: "string",
  },
  AddView: {
    area_m2: { nullable: "number" },
    cell_size: { nullable: { list: "number" } },
    cells: { list: { list: "number" } },
    control_points: { list: { ref: "ControlPointView" } },
    crs: "string",
    depth_m: { nullable: { list: "number" } },
    extent: { nullable: { list: "number" } },
    file: "string",
    kind: "string",
    place: { nullable: { list: "number" } },
    preview: "boolean",
    read: "number",
    residual_m: { nullable: "number" },
    shapes: { list: { list: { list: "number" } } },
    skipped: { list: { ref: "SkippedRowView" } },
    stored: "number",
    warnings: { list: "string" },
    warp: { nullable: "string" },
  },
  AgreementTaxonView: {
    both: "number",
    code: "string",
    name: "string",
    neither: "number",
    only_from: "number",
    only_to: "number",
  },
  AgreementView: {
    from: "string",
    kappa_presence: { nullable: "number" },
    kappa_rating: { nullable: "number" },
    pairs: "number",
    same_presence: { nullable: "number" },
    sentence: "string",
    sites: "number",
    taxa: { list: { ref: "AgreementTaxonView" } },
    to: "string",
    weighting: "string",
  },
  AlertView: {
    anchor: "string",
    blanks_before: { nullable: "number" },
    certain: { nullable: "boolean" },
    code: "string",
    common_name: "string",
    frequency: { nullable: { ref: "CountView" } },
    kind: "string",
    limit: { nullable: { ref: "BoardLimitView" } },
    scientific_name: "string",
    sentence: "string",
    sites: { list: "string" },
    zone: { nullable: "string" },
  },
  AllLittoral: {
    all: { ref: "FrequencyView" },
    littoral: { ref: "FrequencyView" },
  },
  AllLittoralVegetated: {
    all: { ref: "FrequencyView" },
    littoral: { ref: "FrequencyView" },
    vegetated: { ref: "FrequencyView" },
  },
  AlongShoreView: {
    from_off_m: "number",
    shore_m: "number",
    to_off_m: "number",
    way: "string",
  },
  AmendmentView: {
    at: "string",
    by: "string",
    sites: { list: "string" },
    why: "string",
  },
  AreaAsk: {
    code: "string",
    geometry: { nullable: "object" },
    kind: "string",
    name: "string",
    protection: "string",
    rule: "string",
    since: { nullable: "number" },
    until: { nullable: "number" },
    version: { nullable: "string" },
    zone: { nullable: "string" },
  },
  BackgroundView: {
    control_points: { list: { ref: "ControlPointView" } },
    crs: "string",
    extent: { list: "number" },
    id: "string",
    name: "string",
    residual_m: "number",
    sha256: "string",
    size: { list: "number" },
    warp: "string",
  },
  BandView: {
    from_m: "number",
    geometry: "object",
    to_m: { nullable: "number" },
  },
  BedBody: {
    note: "string",
    rating: { nullable: "string" },
    site: { nullable: "string" },
    taxa: { list: "string" },
  },
  BedEntry: {
    bed: { ref: "BedBody" },
    drawn: "boolean",
    id: "string",
  },
  BedsView: {
    area_m2: "number",
    code: "string",
    drawings: "number",
    not_drawn: "number",
    zone: { nullable: "string" },
  },
  BeginSurvey: {
    by: "string",
    name: "string",
    scale: "string",
    scale_reason: "string",
    throws_per_site: "number",
  },
  BoardLimitView: {
    adopted: "string",
    kind: "string",
    number: "number",
    taxon: { nullable: "string" },
    text: "string",
    value: "number",
    words: "string",
    zone: { nullable: "string" },
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
  BreakView: {
    kind: "string",
    message: "string",
    reason: "string",
    survey: "string",
  },
  BrokenView: {
    expected: "string",
    found: "string",
    what: "string",
    where: "string",
  },
  ChaoView: {
    high: "number",
    low: "number",
    method: "string",
    se: "number",
    value: "number",
  },
  CheckView: {
    id: "string",
    kind: "string",
    message: "string",
    reason: { nullable: "string" },
    remedy: "string",
    settled: "boolean",
    settled_by: { nullable: "string" },
    severity: "string",
    where: "string",
    why: "string",
  },
  CloseRecord: {
    by: "string",
    despite: { nullable: "string" },
  },
  ColumnView: {
    header: "string",
    meaning: "string",
  },
  CommunityView: {
    bray_curtis: { nullable: "number" },
    jaccard: { nullable: "number" },
    p: { nullable: "number" },
    permutations: "number",
    r: { nullable: "number" },
    rated: "boolean",
    seed: "number",
    sites: { list: "number" },
    why_not: "string",
    within_pairs: "boolean",
  },
  CompareView: {
    any: { ref: "TaxonChangeView" },
    by_zone: { list: { ref: "ZoneChangeView" } },
    community: { ref: "CommunityView" },
    design: "string",
    from: { ref: "SurveyBriefRef" },
    methods: { map: "string" },
    noise: { list: { ref: "NoiseBandView" } },
    noise_source: "string",
    pairs: { nullable: "number" },
    places: { list: { ref: "SiteGainView" } },
    places_bare: { nullable: "number" },
    ratings: { list: { ref: "RatingChangeView" } },
    richness: { nullable: { ref: "RichnessChangeView" } },
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
  ConflictFieldView: {
    current: "string",
    field: "string",
    other: "string",
  },
  ConflictView: {
    current_at: "string",
    current_by: "string",
    fields: { list: { ref: "ConflictFieldView" } },
    id: "string",
    other_at: "string",
    other_by: "string",
    what: "string",
  },
  ContourView: {
    depth_m: "number",
    geometry: "object",
  },
  ContoursAsk: {
    contours: { list: { ref: "TracedContour" } },
    name: "string",
  },
  ContrastView: {
    high: "number",
    low: "number",
    p: { nullable: "number" },
    scale: "string",
    value: "number",
  },
  ControlPointView: {
    left_out_m: { nullable: "number" },
    name: "string",
    pixel: { list: "number" },
    place: { list: "number" },
    residual_m: "number",
    suspect: "boolean",
  },
  ControlView: {
    high: { nullable: "number" },
    low: { nullable: "number" },
    value: "number",
  },
  CornerAsk: {
    action: "string",
    at: { list: "number" },
    of: { nullable: "string" },
    to: { nullable: { list: "number" } },
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
  DatumDistanceView: {
    bands: { list: { ref: "DistanceAreaView" } },
    farthest: { list: "number" },
    farthest_lon_lat: { list: "number" },
    mean_m: "number",
    median_m: "number",
    most_m: "number",
    p95_m: "number",
  },
  DayBody: {
    air_c: { nullable: "number" },
    date: { nullable: "string" },
    end: { nullable: "string" },
    gear: "string",
    secchi_m: { nullable: "number" },
    start: { nullable: "string" },
    water_c: { nullable: "number" },
    water_level_m: { nullable: "number" },
    weather: "string",
    wind_m_s: { nullable: "number" },
    wind_words: "string",
  },
  DaylightView: {
    rise: { nullable: "string" },
    set: { nullable: "string" },
  },
  DensityView: {
    abbott: { nullable: { ref: "ControlView" } },
    difference: { nullable: { ref: "ContrastView" } },
    henderson_tilton: { nullable: { ref: "ControlView" } },
    treated: { list: "number" },
    untreated: { list: "number" },
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
  DepthQuartilesView: {
    greatest_m: "number",
    least_m: "number",
    lower_m: "number",
    median_m: "number",
    sites: "number",
    upper_m: "number",
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
  DetectionView: {
    code: "string",
    detection: { nullable: "number" },
    detection_high: { nullable: "number" },
    detection_low: { nullable: "number" },
    missed_chance: { nullable: "number" },
    naive: { nullable: "number" },
    occupancy: { nullable: "number" },
    occupancy_high: { nullable: "number" },
    occupancy_low: { nullable: "number" },
    sites: "number",
    throws: "number",
    why_not: "string",
  },
  DifferenceView: {
    high: "number",
    low: "number",
    value: "number",
  },
  DistanceAreaView: {
    area_m2: "number",
    from_m: "number",
    to_m: { nullable: "number" },
  },
  DistanceBandView: {
    from_m: "number",
    geometry: "object",
    to_m: { nullable: "number" },
  },
  DistanceView: {
    bands: { list: { ref: "DistanceBandView" } },
    beyond_m: "number",
  },
  DiversityView: {
    evenness: { nullable: "number" },
    inverse_simpson: "number",
    shannon: "number",
    simpson: "number",
  },
  DrawView: {
    areas: { list: { ref: "DrawnAreaView" } },
    backgrounds: { list: { ref: "BackgroundView" } },
    contours: { list: { ref: "DrawnContourView" } },
    crs: "string",
    extent: { nullable: { list: "number" } },
    flags: { list: { ref: "FlagView" } },
    landmarks: { list: { ref: "DrawnLandmarkView" } },
    last_change: { nullable: "string" },
    next_redo: { nullable: "string" },
    outline: { nullable: "object" },
    surveyed: { nullable: "number" },
    version: "string",
  },
  DrawnAreaView: {
    area_m2: "number",
    code: "string",
    geometry: "object",
    id: "string",
    kind: "string",
    name: "string",
    protection: "string",
    rule: "string",
    since: { nullable: "number" },
    version: "string",
    zone: { nullable: "string" },
  },
  DrawnContourView: {
    data_set: "string",
    depth_m: "number",
    geometry: "object",
    of: "number",
    source: "string",
  },
  DrawnLandmarkView: {
    at: { list: "number" },
    id: "string",
    kind: "string",
    name: "string",
  },
  EffectView: {
    abbott: { nullable: { ref: "ControlView" } },
    density: { nullable: { ref: "DensityView" } },
    detectable: { nullable: "number" },
    difference: { nullable: { ref: "ContrastView" } },
    henderson_tilton: { nullable: { ref: "ControlView" } },
    log_odds: { nullable: { ref: "ContrastView" } },
    may_be: { list: "string" },
    p: { nullable: "number" },
    p_adjusted: { nullable: "number" },
    treated: { ref: "PartChangeView" },
    untreated: { ref: "PartChangeView" },
    verdict: "string",
  },
  EfficacyView: {
    abbott: { nullable: { ref: "ControlView" } },
    after: { ref: "SurveyBriefRef" },
    before: { nullable: { ref: "SurveyBriefRef" } },
    control: { list: "string" },
    detectable: { nullable: "number" },
    estimate: { nullable: { ref: "ContrastView" } },
    estimate_logit: { nullable: { ref: "ContrastView" } },
    henderson_tilton: { nullable: { ref: "ControlView" } },
    later: { nullable: { ref: "SurveyBriefRef" } },
    methods: { map: "string" },
    natives: { list: { ref: "TaxonEffectView" } },
    permutations: "number",
    persistence: { nullable: { ref: "EffectView" } },
    reason: "string",
    seed: "number",
    sentences: { list: "string" },
    sites: { list: { ref: "PartSiteView" } },
    target: { list: { ref: "TaxonEffectView" } },
    target_rule: "string",
    targets: { list: "string" },
    together: { ref: "EffectView" },
    treatments: { list: { ref: "TreatmentView" } },
    verdict: "string",
    warnings: { list: { ref: "WarningView" } },
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
  EntryDifferenceView: {
    fields: { list: { ref: "ConflictFieldView" } },
    first: { nullable: { ref: "VisitBody" } },
    first_by: "string",
    second: { ref: "VisitBody" },
    second_by: "string",
    site: "string",
  },
  EntrySiteView: {
    code: "string",
    dropped: { nullable: "string" },
    landmark: "string",
    lat: { nullable: "number" },
    lon: { nullable: "number" },
    map_depth_m: { nullable: "number" },
    spare: "boolean",
    sub_area: { nullable: "string" },
    zone: { nullable: "string" },
  },
  EntryTaxonView: {
    aliases: { list: "string" },
    code: "string",
    common_name: "string",
    found: "number",
    found_here: "number",
    growth_form: "string",
    listed_noxious: "boolean",
    origin: "string",
    other_names: { list: "string" },
    rank: "string",
    scientific_name: "string",
  },
  EntryView: {
    amendments: { list: { ref: "AmendmentView" } },
    beds: { list: { ref: "BedEntry" } },
    header: { ref: "HeaderEntry" },
    people: { list: "string" },
    reasons: { list: { ref: "WordView" } },
    roles: { list: { ref: "WordView" } },
    scale: { ref: "ScaleView" },
    seal: { nullable: { ref: "SealView" } },
    sediments: { list: { ref: "WordView" } },
    shoreline: { list: { ref: "ShorelineEntry" } },
    sites: { list: { ref: "EntrySiteView" } },
    species: { list: { ref: "EntryTaxonView" } },
    survey: "string",
    units: "string",
    visits: { list: { ref: "VisitEntry" } },
    zones: { list: "string" },
  },
  ErrorBody: {
    hint: "string",
    message: "string",
  },
  EstimateView: {
    high: "number",
    low: "number",
    value: "number",
  },
  ExtentPointView: {
    code: "string",
    found: "boolean",
    rating: { nullable: "string" },
    x: "number",
    y: "number",
  },
  ExtentView: {
    anchor: "string",
    cell_side_m: "number",
    cells: { list: { list: "number" } },
    code: "string",
    crs: "string",
    method: "string",
    name: "string",
    outside: "number",
    points: { list: { ref: "ExtentPointView" } },
    survey: "string",
    variogram: { nullable: { ref: "VariogramView" } },
    water: "string",
    why_not: "string",
    zones: { list: { ref: "AcresView" } },
  },
  ExtrapolationView: {
    sites: "number",
    value: "number",
  },
  FetchView: {
    e: "number",
    n: "number",
    ne: "number",
    se: "number",
  },
  FigureView: {
    high: { nullable: "number" },
    low: { nullable: "number" },
    name: "string",
    value: "number",
  },
  FindingsView: {
    acres: { list: { ref: "AcresView" } },
    acres_water: "string",
    alerts: { list: { ref: "AlertView" } },
    beds: { list: { ref: "BedsView" } },
    board_limits: { list: { ref: "BoardLimitView" } },
    by_depth: { list: { ref: "GroupView" } },
    by_stratum: { list: { ref: "GroupView" } },
    by_zone: { list: { ref: "GroupView" } },
    design_weighted: { nullable: { ref: "WeightedView" } },
    detection: { list: { ref: "DetectionView" } },
    diversity: { nullable: { ref: "DiversityView" } },
    dominance: { list: "number" },
    floristic_quality: { nullable: { ref: "FloristicView" } },
    frequency_any: { ref: "AllLittoral" },
    littoral_sites: "number",
    max_plant_depth_m: { nullable: "number" },
    methods: { map: "string" },
    missed_at_most: { nullable: "number" },
    notes: { list: "string" },
    richness: { ref: "RichnessView" },
    scale: "string",
    shore: { list: { ref: "ShoreView" } },
    shoreline: { map: "number" },
    simpson: { nullable: "number" },
    sites: { ref: "SitesCountView" },
    sites_without_depth: "number",
    species_per_site: { ref: "SpeciesPerSiteView" },
    summary: { list: { ref: "SentenceView" } },
    survey: "string",
    taxa: { list: { ref: "TaxonFindingView" } },
  },
  FirstFoundView: {
    blanks_before: "number",
    date: { nullable: "string" },
    sites: "number",
    survey: "string",
    zone: { nullable: "string" },
  },
  FlagView: {
    area_m2: "number",
    at: { list: "number" },
    codes: { list: "string" },
    kind: "string",
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
  GeometryAsk: {
    code: { nullable: "string" },
    geometry: "object",
    near: { nullable: { list: "number" } },
  },
  GroupTaxonView: {
    code: "string",
    frequency: { ref: "CountView" },
    mean_rating: { nullable: "number" },
  },
  GroupView: {
    frequency_any: { ref: "FrequencyView" },
    from_m: { nullable: "number" },
    key: "string",
    not_sampled: { map: "number" },
    planned: { nullable: "number" },
    richness: "number",
    sampled: "number",
    species_per_site: { nullable: "number" },
    taxa: { list: { ref: "GroupTaxonView" } },
    to_m: { nullable: "number" },
  },
  HeaderBody: {
    crew: { list: { ref: "CrewView" } },
    days: { list: { ref: "DayBody" } },
    depth_cap_m: { nullable: "number" },
    end: { nullable: "string" },
    note: "string",
    protocol: "string",
    start: { nullable: "string" },
    throws_per_site: "number",
  },
  HeaderConflictView: {
    current: { ref: "HeaderEntry" },
    hint: "string",
    message: "string",
    yours: { ref: "HeaderBody" },
  },
  HeaderEntry: {
    changed_at: "string",
    changed_by: "string",
    header: { ref: "HeaderBody" },
    version: "string",
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
  KitText: {
    text: "string",
  },
  LakeView: {
    area_m2: "number",
    cell_m: { nullable: "number" },
    crs: "string",
    datum_distance: { nullable: { ref: "DatumDistanceView" } },
    depth_source: { nullable: "string" },
    error: { nullable: { ref: "DepthErrorView" } },
    fetch_m: { nullable: { ref: "FetchView" } },
    hypsography: { list: { ref: "HypsographyRow" } },
    interpolation: { nullable: "string" },
    interpolation_not_taken: { nullable: { ref: "NotTakenView" } },
    island_count: "number",
    islands: { list: { ref: "IslandView" } },
    level_m: "number",
    littoral: { nullable: { ref: "LittoralView" } },
    max_depth_m: { nullable: "number" },
    max_length_m: { nullable: "number" },
    mean_depth_m: { nullable: "number" },
    name: "string",
    perimeter_m: "number",
    perimeter_outer_m: "number",
    relative_depth: { nullable: "number" },
    remarks: { list: "string" },
    rule: { nullable: "string" },
    rules: { list: "string" },
    shoreline_development: "number",
    slope: { nullable: { ref: "SlopeView" } },
    slope_by_depth: { list: { ref: "SlopeBandView" } },
    soundings: "number",
    volume_m3: { nullable: "number" },
    zones: { list: { ref: "ZoneView" } },
  },
  LandmarkAsk: {
    at: { list: "number" },
    kind: "string",
    name: "string",
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
    limit: "string",
    max_depth_m: "number",
    min_depth_m: "number",
    other_regressions: { list: { ref: "OtherRegressionView" } },
    own_m: { list: "number" },
    regression: { nullable: { ref: "RegressionView" } },
    secchi_m: { nullable: "number" },
    slope: { nullable: { ref: "SlopeView" } },
    upper_limit_m: { nullable: "number" },
  },
  MannKendallView: {
    exact: "boolean",
    p: "number",
    s: "number",
    sens_slope: "number",
    sens_slope_high: "number",
    sens_slope_low: "number",
    values: "number",
    variance: "number",
    z: "number",
  },
  MapView: {
    bands: { list: { ref: "BandView" } },
    contours: { list: { ref: "ContourView" } },
    crs: "string",
    deepest: { nullable: { list: "number" } },
    extent: { list: "number" },
    landmarks: { list: { ref: "LandmarkView" } },
    level_m: "number",
    limit: { nullable: { ref: "ContourView" } },
    outline: "object",
    sub_areas: { list: { ref: "ShapeView" } },
    treatments: { list: { ref: "ShapeView" } },
    zones: { list: { ref: "ShapeView" } },
  },
  MeasureView: {
    area_m2: "number",
    flags: { list: { ref: "FlagView" } },
    littoral_area_m2: { nullable: "number" },
    mean_depth_m: { nullable: "number" },
    shore_m: { nullable: "number" },
    volume_m3: { nullable: "number" },
  },
  MergeView: {
    conflicts: "number",
    renamed: { list: "string" },
    taken: "number",
  },
  NewLakeAsk: {
    county: "string",
    name: "string",
    region: "string",
    units: { nullable: "string" },
  },
  NewScaleView: {
    breaks: "boolean",
    key: "string",
    name: "string",
  },
  NoiseBandView: {
    band: "number",
    beyond: { nullable: "boolean" },
    change: { nullable: "number" },
    from: { nullable: "number" },
    measure: "string",
    to: { nullable: "number" },
    words: "string",
  },
  NotTakenView: {
    mean_m: "number",
    method: "string",
  },
  ObservationBody: {
    rating: { nullable: "string" },
    seen: { nullable: "string" },
    taxon: "string",
  },
  OtherNamesView: {
    sites: { list: "number" },
    together: "string",
    together_from: { ref: "CountView" },
    together_to: { ref: "CountView" },
    with: { list: "string" },
    withheld: "boolean",
  },
  OtherRegressionView: {
    key: "string",
    limit_m: "number",
  },
  ParameterView: {
    name: "string",
    value: "string",
  },
  PartChangeView: {
    after: { ref: "CountView" },
    before: { ref: "CountView" },
    same_sites: "boolean",
  },
  PartSiteView: {
    after: { nullable: "boolean" },
    before: { nullable: "boolean" },
    code: "string",
    part: "string",
    x: "number",
    y: "number",
  },
  PerYearView: {
    high: "number",
    low: "number",
    p: "number",
    value: "number",
  },
  PhotoView: {
    camera: "string",
    caption: "string",
    file_name: "string",
    height: { nullable: "number" },
    id: "string",
    lat: { nullable: "number" },
    lon: { nullable: "number" },
    original_sha256: "string",
    sha256: "string",
    site: { nullable: "string" },
    taken: { nullable: "string" },
    taxon: { nullable: "string" },
    who: "string",
    width: { nullable: "number" },
    with_ruler: "boolean",
  },
  PlaceView: {
    latitude: "number",
    longitude: "number",
    x: "number",
    y: "number",
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
    scale_reason: "string",
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
  PlantAlertView: {
    message: "string",
    steps: { list: "string" },
    taxon: "string",
  },
  PointAsk: {
    code: "string",
    lat: "number",
    lon: "number",
  },
  ProgrammeScaleView: {
    name: "string",
    scale: "string",
    survey: "string",
  },
  RatingAreaView: {
    area_m2: "number",
    code: "string",
  },
  RatingChangeView: {
    code: "string",
    effect: { nullable: "number" },
    effect_high: { nullable: "number" },
    effect_low: { nullable: "number" },
    effect_method: "string",
    mean_from: "number",
    mean_to: "number",
    pairs: "number",
    steps: { list: { ref: "RatingShiftView" } },
    wilcoxon: { nullable: { ref: "WilcoxonView" } },
  },
  RatingCountView: {
    code: "string",
    sites: "number",
  },
  RatingShiftView: {
    code: "string",
    from: "number",
    to: "number",
  },
  RecordedFileView: {
    alerts: { list: { ref: "PlantAlertView" } },
    columns: { list: { ref: "ColumnView" } },
    faults: "number",
    map: "string",
    new_sites: "number",
    new_taxa: { list: { ref: "TaxonListView" } },
    observations: "number",
    preview: "boolean",
    remembered: { nullable: { ref: "RememberedColumnsView" } },
    rows_read: "number",
    scale: "string",
    scale_break: { nullable: { ref: "ScaleBreakView" } },
    skipped: { list: { ref: "SkippedRowView" } },
    understood: { list: { ref: "UnderstoodView" } },
    unplanned: { list: "string" },
    visits: "number",
    warnings: { list: "string" },
  },
  RegressionView: {
    key: "string",
    source: "string",
  },
  RememberedColumnsView: {
    file: "string",
    kept_at: "string",
    survey: "string",
  },
  ResolutionView: {
    amended: { list: "string" },
    code: "string",
    name: "string",
    places: "number",
    was: "string",
  },
  RichnessChangeView: {
    difference: { ref: "EstimateView" },
    found: { list: "number" },
    from: { ref: "EstimateView" },
    gained: { list: "string" },
    lost: { list: "string" },
    sites: "number",
    to: { ref: "EstimateView" },
  },
  RichnessEstimateView: {
    method: "string",
    se: "number",
    value: "number",
  },
  RichnessView: {
    accumulation: { list: { ref: "AccumulationView" } },
    bootstrap: { nullable: { ref: "RichnessEstimateView" } },
    chao2: { nullable: { ref: "ChaoView" } },
    coverage: { nullable: "number" },
    extrapolation: { list: { ref: "ExtrapolationView" } },
    jackknife1: { nullable: { ref: "RichnessEstimateView" } },
    jackknife2: { nullable: { ref: "RichnessEstimateView" } },
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
  RouteWords: {
    back_by: { nullable: "string" },
    boats: { nullable: "number" },
    budget: { nullable: "number" },
    cleanest_first: { nullable: "boolean" },
    date: { nullable: "string" },
    days: { nullable: "number" },
    draft: { nullable: "string" },
    early: { nullable: "string" },
    first: { nullable: "string" },
    from: { nullable: "string" },
    last: { nullable: "string" },
    minutes_per_site: { nullable: "number" },
    rest: { nullable: "string" },
    seed: { nullable: "number" },
    speed: { nullable: "string" },
    start: { nullable: "string" },
    survey: "string",
    to: { nullable: "string" },
    try_at: { nullable: "string" },
    utc_offset: { nullable: "number" },
  },
  RuleOfThumbView: {
    hours: "number",
    reaches: "number",
    rule: "string",
    sites: "number",
  },
  SaveBed: {
    bed: { ref: "BedBody" },
    by: "string",
    id: { nullable: "string" },
  },
  SaveChoice: {
    boxes: { list: "string" },
    by: "string",
    keep: "string",
  },
  SaveClock: {
    by: "string",
    id: "string",
    time: "string",
  },
  SaveConflict: {
    by: "string",
    id: "string",
    keep: "string",
  },
  SaveDeletion: {
    base_version: { nullable: "string" },
    by: "string",
  },
  SaveHeader: {
    base_version: { nullable: "string" },
    by: "string",
    header: { ref: "HeaderBody" },
  },
  SaveLogView: {
    at: "string",
    by: "string",
    changed: { list: "string" },
    device: "string",
    id: "string",
    note: "string",
  },
  SavePhoto: {
    by: "string",
    caption: "string",
    site: { nullable: "string" },
    taxon: { nullable: "string" },
    with_ruler: "boolean",
  },
  SaveResolution: {
    by: "string",
    code: "string",
    evidence: "string",
    name: "string",
    note: "string",
    on: { nullable: "string" },
  },
  SaveScale: {
    by: "string",
    reason: "string",
    scale: "string",
  },
  SaveSettlement: {
    by: "string",
    id: "string",
    reason: "string",
  },
  SaveShoreline: {
    by: "string",
    find: { ref: "ShorelineBody" },
    id: { nullable: "string" },
  },
  SaveTaxon: {
    by: "string",
    code: { nullable: "string" },
    common_name: { nullable: "string" },
    growth_form: { nullable: "string" },
    listed_noxious: { nullable: "boolean" },
    name: "string",
    origin: { nullable: "string" },
    rank: { nullable: "string" },
  },
  SaveVisit: {
    base_version: { nullable: "string" },
    by: "string",
    visit: { ref: "VisitBody" },
    why: { nullable: "string" },
  },
  SavedVisit: {
    alerts: { list: { ref: "PlantAlertView" } },
    finds: { list: { ref: "CheckView" } },
    saved: { nullable: { ref: "VisitEntry" } },
  },
  ScaleBreakView: {
    before: { ref: "ProgrammeScaleView" },
    reason: "string",
    scale: "string",
  },
  ScaleChoiceView: {
    key: "string",
    lacks: { list: "string" },
    name: "string",
  },
  ScaleStandView: {
    choices: { list: { ref: "ScaleChoiceView" } },
    differs: "boolean",
    programme: { nullable: { ref: "ProgrammeScaleView" } },
    ratings: "number",
    reason: "string",
    scale: { ref: "ScaleView" },
    sealed: "boolean",
    survey: "string",
  },
  ScaleView: {
    key: "string",
    name: "string",
    source: "string",
    steps: { list: { ref: "StepView" } },
  },
  ScalesView: {
    choices: { list: { ref: "NewScaleView" } },
    programme: { nullable: { ref: "ProgrammeScaleView" } },
    usual: "string",
  },
  SealView: {
    at: "string",
    by: "string",
    sha256: "string",
  },
  SecondEntriesView: {
    different: { list: { ref: "EntryDifferenceView" } },
    entered: "number",
    entries: { list: { ref: "VisitEntry" } },
    same: "number",
  },
  SentPhotoView: {
    known: "boolean",
    photo: { nullable: { ref: "PhotoView" } },
    warnings: { list: "string" },
  },
  SentenceView: {
    anchor: "string",
    cannot_tell: "boolean",
    figures: { list: { ref: "FigureView" } },
    question: "string",
    sentence: "string",
    topic: "string",
  },
  ShapeView: {
    code: "string",
    geometry: "object",
    label: { list: "number" },
    name: "string",
    protection: "string",
    zone: { nullable: "string" },
  },
  SheetScanView: {
    file: "string",
    known: "boolean",
    sha256: "string",
    sheet: "string",
    sheets: "number",
    sites: { list: "string" },
    survey: "string",
    warnings: { list: "string" },
  },
  ShelfBookView: {
    file: "string",
    last_write: { nullable: "string" },
    name: "string",
    problem: "string",
    region: "string",
    surveys: "number",
  },
  ShelfView: {
    books: { list: { ref: "ShelfBookView" } },
    folder: { nullable: "string" },
  },
  ShiftView: {
    high: "number",
    low: "number",
    p: "number",
    value: "number",
  },
  ShoreView: {
    code: "string",
    not_placed: "number",
    places: "number",
    shore_m: { nullable: "number" },
    stretch_m: { nullable: "number" },
    zone: { nullable: "string" },
  },
  ShorelineBody: {
    lat: { nullable: "number" },
    lon: { nullable: "number" },
    note: "string",
    taxon: "string",
    zone: { nullable: "string" },
  },
  ShorelineEntry: {
    find: { ref: "ShorelineBody" },
    id: "string",
  },
  SignedView: {
    by: "string",
  },
  SimulationView: {
    aim: "string",
    chance: { list: "number" },
    chance_error: { list: "number" },
    design: "string",
    edge_m: { list: { nullable: "number" } },
    high: { list: { nullable: "number" } },
    hours: { list: "number" },
    low: { list: { nullable: "number" } },
    plants: "string",
    runs: "number",
    seed: "number",
    sites: { list: "number" },
  },
  SiteAsk: {
    action: "string",
    by: "string",
    lat: { nullable: "number" },
    lon: { nullable: "number" },
    reason: "string",
    use_spare: "boolean",
    x: { nullable: "number" },
    y: { nullable: "number" },
  },
  SiteChangeView: {
    actor: "string",
    at: "string",
    code: "string",
    note: "string",
  },
  SiteGainView: {
    code: "string",
    gained: { list: "string" },
    kept: { list: "string" },
    lat: { nullable: "number" },
    lon: { nullable: "number" },
    lost: { list: "string" },
    x: { nullable: "number" },
    y: { nullable: "number" },
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
    dropped: { nullable: "string" },
    landmark: "string",
    lat: { nullable: "number" },
    lon: { nullable: "number" },
    map_depth_m: { nullable: "number" },
    note: "string",
    outcome: { nullable: "string" },
    sediment: { nullable: "string" },
    spare: "boolean",
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
  SkippedRowView: {
    reason: "string",
    row: "number",
  },
  SlopeBandView: {
    from_m: "number",
    slope: { nullable: { ref: "SlopeView" } },
    to_m: { nullable: "number" },
  },
  SlopeView: {
    cells: "number",
    mean_percent: "number",
    median_percent: "number",
    p95_percent: "number",
  },
  SpeciesMatchView: {
    code: { nullable: "string" },
    common_name: "string",
    matched: "string",
    scientific_name: "string",
    slips: "number",
  },
  SpeciesPerSiteView: {
    littoral_mean: { nullable: "number" },
    native_littoral_mean: { nullable: "number" },
    native_where_native_mean: { nullable: "number" },
    vegetated_mean: { nullable: "number" },
  },
  SplitAsk: {
    code: { nullable: "string" },
    keep_past: { nullable: "boolean" },
    line: { list: { list: "number" } },
  },
  SpreadSiteView: {
    code: "string",
    lat: { nullable: "number" },
    launch_m: { nullable: "number" },
    lon: { nullable: "number" },
    nearest_launch: { nullable: "string" },
    x: { nullable: "number" },
    y: { nullable: "number" },
  },
  SpreadView: {
    along_shore: { nullable: { ref: "AlongShoreView" } },
    bearing_deg: { nullable: "number" },
    code: "string",
    direction: "string",
    first_found: { list: { ref: "FirstFoundView" } },
    from: { ref: "SurveyBriefRef" },
    gained: { list: { ref: "SpreadSiteView" } },
    gained_m2: { nullable: "number" },
    kept: { list: { ref: "SpreadSiteView" } },
    lost: { list: { ref: "SpreadSiteView" } },
    lost_m2: { nullable: "number" },
    methods: { map: "string" },
    middle_from: { nullable: { list: "number" } },
    middle_to: { nullable: { list: "number" } },
    name: "string",
    resamples: "number",
    scientific_name: "string",
    seed: "number",
    sentence: "string",
    shift_m: { nullable: { ref: "ShiftView" } },
    to: { ref: "SurveyBriefRef" },
    warnings: { list: { ref: "WarningView" } },
    why_not: "string",
    years: { list: { ref: "SpreadYearView" } },
    zones_gained: { list: "string" },
    zones_lost: { list: "string" },
  },
  SpreadYearView: {
    blank: { list: { list: "number" } },
    date: { nullable: "string" },
    found: { list: { list: "number" } },
    looked_for: "boolean",
    survey: "string",
  },
  StepView: {
    code: "string",
    measure: "string",
    name: "string",
    on_rake: "boolean",
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
    names: { nullable: { ref: "OtherNamesView" } },
    origin: "string",
    p: { nullable: "number" },
    p_adjusted: { nullable: "number" },
    scientific_name: "string",
    test: "string",
    to: { ref: "CountView" },
    verdict: "string",
  },
  TaxonEffectView: {
    code: "string",
    common_name: "string",
    effect: { ref: "EffectView" },
    origin: "string",
    scientific_name: "string",
  },
  TaxonFindingView: {
    c: { nullable: "number" },
    code: "string",
    common_name: "string",
    depth_quartiles: { nullable: { ref: "DepthQuartilesView" } },
    depths: { list: { ref: "DepthCountView" } },
    frequency: { ref: "AllLittoralVegetated" },
    growth_form: "string",
    is_plant: "boolean",
    listed_noxious: "boolean",
    looked_for: "boolean",
    max_depth_m: { nullable: "number" },
    mean_rating: { nullable: "number" },
    origin: "string",
    ratings: { list: { ref: "RatingCountView" } },
    relative_frequency: { nullable: "number" },
    scientific_name: "string",
    sites: "number",
    visuals: "number",
  },
  TaxonListView: {
    code: "string",
    common_name: "string",
    growth_form: "string",
    origin: "string",
    scientific_name: "string",
  },
  ThrowBody: {
    number: "number",
    observations: { list: { ref: "ObservationBody" } },
    total: { nullable: "string" },
  },
  TracedContour: {
    depth_m: "number",
    line: { list: { list: "number" } },
  },
  TrackSiteView: {
    arrive: { nullable: "string" },
    code: "string",
    lat: { nullable: "number" },
    lon: { nullable: "number" },
    marked: "boolean",
    minutes: { nullable: "number" },
    missed: "boolean",
    nearest_m: { nullable: "number" },
    off_m: { nullable: "number" },
    x: { nullable: "number" },
    y: { nullable: "number" },
  },
  TrackView: {
    end: { nullable: "string" },
    file: "string",
    missed: { list: "string" },
    points: "number",
    sites: { list: { ref: "TrackSiteView" } },
    start: { nullable: "string" },
    stored: "number",
    survey: "string",
    warnings: { list: "string" },
    waypoints: "number",
    ways: { list: { list: { list: "number" } } },
    within_m: "number",
    without_position: "number",
  },
  TreatmentView: {
    area_m2: "number",
    before: { nullable: "string" },
    by: "string",
    code: "string",
    end: "string",
    geometry: "object",
    label: { list: "number" },
    method: "string",
    name: "string",
    note: "string",
    reported_area_m2: { nullable: "number" },
    start: "string",
  },
  TrendPointView: {
    date: { nullable: "string" },
    fitted: { nullable: "number" },
    high: { nullable: "number" },
    k: "number",
    left_out: "string",
    low: { nullable: "number" },
    n: "number",
    named_otherwise: "number",
    p: { nullable: "number" },
    stretch: "number",
    survey: "string",
    year: { nullable: "number" },
  },
  TrendView: {
    breaks: { list: { ref: "BreakView" } },
    code: "string",
    degrees_of_freedom: { nullable: "number" },
    detectable: { nullable: "number" },
    mann_kendall: { nullable: { ref: "MannKendallView" } },
    mann_kendall_why_not: "string",
    methods: { map: "string" },
    model: "string",
    name: "string",
    odds_ratio: { nullable: { ref: "EstimateView" } },
    origin: "string",
    overdispersion: { nullable: "number" },
    per_year: { nullable: { ref: "PerYearView" } },
    scientific_name: "string",
    sentence: "string",
    shared_depth_m: { nullable: "number" },
    surveys: { list: { ref: "TrendPointView" } },
    surveys_used: "number",
    verdict: "string",
    why_not: "string",
  },
  TrendsView: {
    notes: { list: "string" },
    taxa: { list: { ref: "TrendView" } },
  },
  UnderstoodView: {
    depth_m: { nullable: "number" },
    not_sampled: { nullable: "string" },
    note: "string",
    sediment: { nullable: "string" },
    site: "string",
    throws: { list: "string" },
    time: { nullable: "string" },
  },
  UndoAsk: {
    note: "string",
  },
  UndoneView: {
    undone: { nullable: "string" },
  },
  VariogramView: {
    nugget: "number",
    partial: "number",
    range_m: "number",
  },
  VerifyView: {
    broken: { list: { ref: "BrokenView" } },
    ok: "boolean",
    sealed: "number",
  },
  VisitBody: {
    accuracy_m: { nullable: "number" },
    depth_m: { nullable: "number" },
    lat: { nullable: "number" },
    lon: { nullable: "number" },
    not_sampled: { nullable: "string" },
    note: "string",
    observer: "string",
    reported_native_species: { nullable: "number" },
    reported_species: { nullable: "number" },
    sediment: { nullable: "string" },
    throws: { list: { ref: "ThrowBody" } },
    time: { nullable: "string" },
  },
  VisitConflictView: {
    current: { nullable: { ref: "VisitEntry" } },
    hint: "string",
    message: "string",
    yours: { nullable: { ref: "VisitBody" } },
  },
  VisitEntry: {
    changed_at: "string",
    changed_by: "string",
    outcome: "string",
    site: "string",
    version: "string",
    visit: { ref: "VisitBody" },
  },
  WarningView: {
    kind: "string",
    message: "string",
  },
  WeightedEstimateView: {
    high: "number",
    low: "number",
    places: "number",
    se: "number",
    sites: "number",
    total: "number",
    total_se: "number",
    value: "number",
    variance: "string",
  },
  WeightedTaxonView: {
    code: "string",
    estimate: { ref: "WeightedEstimateView" },
  },
  WeightedView: {
    any: { ref: "WeightedEstimateView" },
    left_out: "number",
    taxa: { list: { ref: "WeightedTaxonView" } },
  },
  WilcoxonView: {
    changed: "number",
    exact: "boolean",
    falls: "number",
    p: "number",
    unchanged: "number",
    v: "number",
    zero_rule: "string",
  },
  WordView: {
    key: "string",
    words: "string",
  },
  ZoneChangeView: {
    any: { ref: "TaxonChangeView" },
    design: "string",
    taxa: { list: { ref: "TaxonChangeView" } },
    zone: "string",
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
    rule: "string",
    shore_m: { nullable: "number" },
    since: { nullable: "number" },
    sub_areas: "number",
    until: { nullable: "number" },
    volume_m3: { nullable: "number" },
  },
};
