import type { PlannedSite } from "../screens/plan/model";
import type { Act } from "../screens/plan/work.svelte";
import { change, fetchSites, get, look, survey } from "./client";
import type { DesignsView, EffortView, PlanAsk, PlanView, RouteView } from "./contract";
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

/** The sites of a survey as they were laid, moved and dropped. */
export async function fetchPlanned(name: string): Promise<readonly PlannedSite[]> {
  const { sites } = await fetchSites(name);
  return sites.map((site) => ({
    code: site.code,
    x: site.x,
    y: site.y,
    zone: site.zone,
    depth_m: site.map_depth_m,
    spare: false,
    dropped: false,
    note: "",
  }));
}

export const writeSite = (name: string, act: Act, why: string, who: string): Promise<unknown> =>
  change(
    "POST",
    survey(name, `sites/${encodeURIComponent(act.code)}`),
    { act, why, who },
    (v) => v,
  );
