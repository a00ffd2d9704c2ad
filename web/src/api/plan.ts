import type { Act } from "../screens/plan/work.svelte";
import { change, get, look, sendFile, survey } from "./client";
import type {
  DesignsView,
  EffortView,
  PlanAsk,
  PlanView,
  RouteView,
  RouteWords,
  SiteAsk,
  TrackView,
} from "./contract";
import { parse } from "./shape";

/** How many sites a purpose needs; `runs` virtual surveys for each number, none for the formula alone. */
export const fetchEffort = async (query: URLSearchParams, runs: number): Promise<EffortView> =>
  parse("EffortView", await get(`/api/effort?${query}&runs=${runs}`));

/** Ways to lay the same number of sites, side by side. */
export const fetchDesigns = async (query: URLSearchParams): Promise<DesignsView> =>
  parse("DesignsView", await get(`/api/designs?${query}`));

/** A plan as it would be laid; nothing is kept. */
export const previewPlan = async (ask: Partial<PlanAsk>): Promise<PlanView> =>
  parse("PlanView", await look("/api/plan/preview", ask));

/** Lays the sites of a survey and keeps them. */
export const keepPlan = (ask: Partial<PlanAsk>): Promise<PlanView> =>
  change("POST", "/api/plan", ask, (value) => parse("PlanView", value));

/** A day on the water; asked anew each time, for the sites may have moved. */
export const fetchRoute = async (query: URLSearchParams): Promise<RouteView> =>
  parse("RouteView", await get(`/api/route?${query}`));

/** The plan of a survey as it stands, with what was changed by hand. */
export const fetchPlanned = async (name: string): Promise<PlanView> =>
  parse("PlanView", await get(survey(name, "plan")));

const ACTIONS = { move: "move", drop: "drop", replace: "drop", restore: "restore" } as const;

/** Moves, drops, replaces or restores a site; the plan as it then stands. */
export function writeSite(name: string, act: Act, why: string, who: string): Promise<PlanView> {
  const ask: Partial<SiteAsk> = {
    action: ACTIONS[act.kind],
    use_spare: act.kind === "replace",
    reason: why,
    by: who,
    ...(act.kind === "move" ? { x: act.to[0], y: act.to[1] } : {}),
  };
  const address = survey(name, `sites/${encodeURIComponent(act.code)}`);
  return change("POST", address, ask, (value) => parse("PlanView", value));
}

/** Plans a day and keeps it: sheets and GPS files follow it from now on. */
export const keepRoute = (name: string, words: Partial<RouteWords>): Promise<RouteView> =>
  change("PUT", survey(name, "route"), words, (value) => parse("RouteView", value));

/** The track of a day against the plan; unless it is a preview, visits without a position get the boat's. */
export function sendTrack(
  name: string,
  file: File,
  preview: boolean,
  by: string,
): Promise<TrackView> {
  const query = new URLSearchParams({ file: file.name, preview: String(preview), by });
  return sendFile(`${survey(name, "track")}?${query}`, file, (value) => parse("TrackView", value));
}

/** The kit list as text. */
export const fetchKit = async (): Promise<string> => parse("KitText", await get("/api/kit")).text;

/** Makes the kit list the lake's own; an empty text goes back to the usual one. */
export const keepKit = (text: string): Promise<string> =>
  change("PUT", "/api/kit", { text }, (value) => parse("KitText", value).text);
