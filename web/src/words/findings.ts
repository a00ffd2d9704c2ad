// The sentences of `What lives here?`, made by rule from the figures and from nothing else.
import type { FindingsView, ScaleView, TaxonFindingView } from "../api/contract";
import { outcomeWords } from "../map/marks";
import type { Units } from "../units/units";
import type { Parts } from "./lake";
import {
  counted,
  fixed,
  hundredthsRange,
  inWords,
  listed,
  percent,
  sentenceCase,
  THIN,
} from "./numbers";
import { called, plantsOnRake } from "./taxon";

/** A sentence and the figures it rests on. */
export interface Footnoted {
  readonly sentence: string;
  readonly note: string;
}

/** `18 of 89: 20 %, 13–30 %`. */
function share(f: {
  k: number;
  n: number;
  p: number | null;
  low: number | null;
  high: number | null;
}): string {
  if (f.p === null || f.low === null || f.high === null) return `${f.k} of ${f.n}`;
  return `${f.k} of ${f.n}: ${percent(f.p)}, ${hundredthsRange(f.low, f.high)}${THIN}%`;
}

const kinds = (count: number): string => counted(count, "kind of plant", "kinds of plant");

/** The line under `What lives here?`. */
export function findingsAnswer(view: FindingsView, units: Units): Parts {
  const plants = plantsOnRake(view.taxa);
  const any = view.frequency_any.all;
  if (view.sites.sampled === 0) return ["No site of this survey has been sampled yet."];
  if (plants.length === 0) {
    const deep =
      view.max_plant_depth_m === null ? "" : `, down to ${units.depth(view.max_plant_depth_m)}`;
    if (any.k === 0)
      return ["The rake came up bare at all ", { figure: counted(any.n, "site") }, " sampled."];
    return [
      "Plants came up at ",
      { figure: `${fixed(any.k)} of ${fixed(any.n)} sites` },
      `${deep}. Their kinds were not named.`,
    ];
  }
  const introduced = plants.filter((taxon) => taxon.origin === "introduced");
  const first = plants[0];
  const worst = [...introduced].sort((a, b) => b.sites - a.sites)[0];
  const parts: (string | { figure: string })[] = [{ figure: sentenceCase(kinds(plants.length)) }];
  parts.push(
    introduced.length === 0
      ? ", none of them known as introduced."
      : `, ${inWords(introduced.length)} of ${plants.length === 1 ? "it" : "them"} introduced.`,
  );
  if (first && first !== worst) parts.push(` ${sentenceCase(called(first))} is the commonest`);
  if (worst) {
    const at = { figure: `${fixed(worst.sites)} of ${fixed(any.n)} sites` };
    const name = called(worst);
    if (first !== worst) parts.push(`; ${name} stands at `, at, ".");
    else parts.push(` The commonest is introduced: ${name}, at `, at, ".");
  } else parts.push(".");
  return parts;
}

/** One in so many, when that is what the share says; else in a hundred. */
export function oneIn(p: number): string {
  if (p >= 0.995) return "at every site";
  if (p > 0.55) return `at ${inWords(Math.round(p * 10))} sites in ten`;
  if (p > 0.45) return "at every second site";
  if (p >= 0.09) {
    const every = Math.round(1 / p);
    return `at about one site in ${inWords(every)}`;
  }
  return `at about ${fixed(Math.max(1, Math.round(p * 100)))} in 100 sites`;
}

function whole(view: FindingsView, units: Units): Footnoted {
  const any = view.frequency_any.all;
  const deep =
    view.max_plant_depth_m === null ? "" : `, down to ${units.depth(view.max_plant_depth_m)}`;
  const missed = Object.entries(view.sites.not_sampled).filter(([, n]) => n > 0);
  const reasons = listed(missed.map(([reason, n]) => `${inWords(n)} ${outcomeWords(reason)}`));
  const note = `${share(any)}, Wilson.${reasons ? ` Not sampled: ${reasons}.` : ""}`;
  const sentence =
    any.k === 0
      ? `No plant came up at any of the ${fixed(any.n)} sites sampled.`
      : `Plants grow at ${fixed(any.k)} of the ${fixed(any.n)} sites sampled${deep}.`;
  return { sentence, note };
}

function typical(view: FindingsView): Footnoted | null {
  const mean = view.species_per_site.vegetated_mean;
  if (mean === null || view.taxa.length === 0) return null;
  const near = Math.max(1, Math.round(mean));
  const littoral = view.species_per_site.littoral_mean;
  const also =
    littoral === null
      ? ""
      : `; ${fixed(littoral, 1)} over the ${fixed(view.littoral_sites)} littoral sites`;
  return {
    sentence: `A typical site with plants holds ${near === 1 ? "one kind" : `${inWords(near)} kinds`}.`,
    note: `Mean ${fixed(mean, 1)} over ${fixed(view.sites.vegetated)} sites with plants${also}; plants only seen are left out.`,
  };
}

/** The step most sites were rated, when more than half were. */
function mostly(taxon: TaxonFindingView, scale: ScaleView): { name: string; sites: number } | null {
  const rated = taxon.ratings.reduce((sum, rating) => sum + rating.sites, 0);
  const most = [...taxon.ratings].sort((a, b) => b.sites - a.sites)[0];
  if (!most || rated < 3 || most.sites * 2 <= rated) return null;
  const step = scale.steps.find((candidate) => candidate.code === most.code);
  return step ? { name: step.name, sites: most.sites } : null;
}

function introduced(taxon: TaxonFindingView, scale: ScaleView): Footnoted {
  const f = taxon.frequency.all;
  const most = mostly(taxon, scale);
  const amount = most ? `, mostly rated ${most.name}` : "";
  const rated = most ? `; ${fixed(most.sites)} of ${fixed(taxon.sites)} rated ${most.name}` : "";
  return {
    sentence: `${sentenceCase(called(taxon))}, which is not native, was ${oneIn(f.p ?? 0)}${amount}.`,
    note: `${share(f)}${rated}.`,
  };
}

function onlySeen(view: FindingsView): Footnoted | null {
  const seen = view.taxa.filter((taxon) => taxon.sites === 0 && taxon.visuals > 0);
  if (seen.length === 0) return null;
  return {
    sentence: `${sentenceCase(listed(seen.map(called)))} ${seen.length === 1 ? "was" : "were"} seen but never came up on the rake.`,
    note: `${listed(seen.map((taxon) => `${called(taxon)} at ${counted(taxon.visuals, "site")}`))}; in no frequency.`,
  };
}

function onlyAshore(view: FindingsView): Footnoted | null {
  const ashore = view.taxa.filter((taxon) => taxon.sites === 0 && taxon.visuals === 0);
  if (ashore.length === 0) return null;
  const strangers = ashore.filter((taxon) => taxon.origin === "introduced").map(called);
  return {
    sentence: `${sentenceCase(listed(ashore.map(called)))} ${ashore.length === 1 ? "was" : "were"} found on the shore only.`,
    note: `${ashore.length} of ${view.richness.with_shoreline} kinds${strangers.length ? `; introduced: ${listed(strangers)}` : ""}; in no frequency.`,
  };
}

/** `In plain words`: the whole, the typical site, the introduced ones, those only seen. */
export function plainWords(view: FindingsView, scale: ScaleView, units: Units): Footnoted[] {
  if (view.sites.sampled === 0) return [];
  const strangers = plantsOnRake(view.taxa)
    .filter((taxon) => taxon.origin === "introduced")
    .slice(0, 3);
  return [
    whole(view, units),
    typical(view),
    ...strangers.map((taxon) => introduced(taxon, scale)),
    onlySeen(view),
    onlyAshore(view),
  ].filter((entry): entry is Footnoted => entry !== null);
}
